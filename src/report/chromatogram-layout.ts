import { axisRoom, ticksOf } from './axes.js';
import { labelSetting, type LabelSetting } from './chromatogram-labels.js';
import type { ChromatogramModel, PeakShape } from './chromatogram-model.js';
import { legend, type LegendContent } from './legend.js';
import type { Magnification } from './magnification.js';
import type { PanelFrame } from './panel-frame.js';
import { look } from './look.js';
import type { Scale } from './scale.js';
import type { SignalRange } from './signal-range.js';
import { headingHeight } from './svg-document.js';
import { joinParts } from './text-width.js';

const axisHeight = 66;
const panelTitleHeight = 24;
const panelGap = 20;
const oneRow = 44;
/** [px] Pictures lower than this go without a legend. */
export const noLegendBelow = 300;
const leastLeft = 48;
/** [px] Distance to aim at between the marks of the signal axis. */
export const signalTickSpacing = 50;

/** What decides on the places. */
export interface LayoutSettings {
  /** [px] Width of the picture. */
  readonly width: number;
  /** [px] Height of the picture. */
  readonly height: number | 'automatic';
  /** Whether the lower end of the signal was given. */
  readonly low: number | 'automatic';
  /** What peaks are labelled with. */
  readonly labels: LabelSetting['labels'];
  /** Whether rejected candidates are marked. */
  readonly rejected: boolean;
}

/** Where everything in a picture of a run goes. */
export interface Layout {
  readonly height: number;
  readonly subtitle: readonly string[];
  readonly frames: readonly PanelFrame[];
  readonly peaks: readonly (readonly PeakShape[])[];
  readonly labels: readonly LabelSetting[];
}

/** Places of one view, or of two with the same scale of time. */
export function layOut(
  model: ChromatogramModel,
  settings: LayoutSettings,
  range: SignalRange,
  subtitle: readonly string[],
  count: 1 | 2,
  view?: Magnification,
): Layout {
  const shown = model.peaks.filter(({ peak }) => peak.retentionTime >= model.from && peak.retentionTime <= model.to);
  const small = new Set(view?.peaks ?? []);
  const peaks =
    view === undefined
      ? [shown, []]
      : [shown.filter((shape) => !small.has(shape)), shown.filter((shape) => small.has(shape))];
  const right = settings.width - 30;
  const lines = joinParts(subtitle, look.textSize, right - leastLeft).slice(0, 3);
  const heading = headingHeight(lines.length);
  const legendRows =
    settings.height === 'automatic' || settings.height >= noLegendBelow
      ? legend(leastLeft, legendEnd(right), 0, legendContent(model, settings.rejected, '')).rows
      : 1;
  const wanted = [0, 1].map((i) =>
    labelSetting(peaks[i]!, settings.labels, right - leastLeft, i === 0 && model.bands.length > 0),
  );
  const fixed = heading + axisHeight + 21 * (legendRows - 1) + count * panelTitleHeight + (count - 1) * panelGap;
  const automatic = fixed + (count === 1 ? 284 : 470) + Math.max(0, wanted[0]!.strip - oneRow);
  const height = settings.height === 'automatic' ? automatic : settings.height;
  const inner = Math.max(height - fixed, 20 * count);
  const secondHeight = count === 1 ? 0 : settings.height === 'automatic' ? 220 : 0.46 * inner;
  const heights = count === 1 ? [inner] : [inner - secondHeight, secondHeight];

  const levels: { top: number; bottom: number; y: Scale }[] = [];
  const labels: LabelSetting[] = [];
  let start = heading;
  for (const [i, whole] of heights.entries()) {
    const first = levels[0]?.y;
    // The second view stretches the first by its factor, to the pixel; its labels may stand beside what it cuts off.
    const scale =
      first === undefined ? 0 : Math.abs((first.end - first.start) / (first.to - first.from)) * (view?.factor ?? 1);
    const headroom = i === 1 && view !== undefined ? 0.9 * whole - (view.high - view.low) * scale : 0;
    const strip = Math.round(Math.min(Math.max(12, wanted[i]!.strip - Math.max(0, headroom)), 0.55 * whole));
    const top = start + panelTitleHeight + strip;
    const bottom = Math.round(top + whole - strip);
    const margin = i === 0 && settings.low === 'automatic' ? wanted[0]!.margin : 0;
    const span = i === 0 || view === undefined ? range.high - range.low : (bottom - top) / scale;
    const low = i === 0 || view === undefined ? range.low : view.low - 0.1 * span;
    const y = { from: low, to: low + span, start: bottom - Math.round(Math.min(margin, 0.25 * whole)), end: top };
    levels.push({ top, bottom, y });
    labels.push({ ...wanted[i]!, strip });
    start = bottom + panelGap;
  }
  const left = Math.round(Math.max(leastLeft, ...levels.map(({ y }) => axisRoom(ticksOf(y, signalTickSpacing)) + 14)));
  const x = { from: model.from, to: model.to, start: left, end: right };
  const frames = levels.map(({ top, bottom, y }) => ({ left, right, top, bottom, x, y, prefix: '' }));
  return { height, subtitle: lines, frames, peaks, labels };
}

/** [px] Where the legend must end to leave room for the title of the axis. */
export function legendEnd(right: number): number {
  return right - 96;
}

export function legendContent(model: ChromatogramModel, rejected: boolean, prefix: string): LegendContent {
  return { areas: model.peaks.length > 0, bands: model.bands.length > 0, rejected, prefix };
}
