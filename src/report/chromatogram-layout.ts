import { axisRoom, ticksOf } from './axes.js';
import { labelSetting, type LabelSetting } from './chromatogram-labels.js';
import type { ChromatogramModel, PeakShape } from './chromatogram-model.js';
import { legend, type LegendContent } from './legend.js';
import type { Magnification } from './magnification.js';
import type { PanelFrame } from './panel-frame.js';
import { look } from './look.js';
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

type Panel = Pick<PanelFrame, 'top' | 'bottom' | 'y'>;

/** Where everything in a picture of a run goes. */
export interface Layout {
  readonly height: number;
  readonly subtitle: readonly string[];
  readonly frames: readonly PanelFrame[];
  readonly peaks: readonly (readonly PeakShape[])[];
  readonly labels: readonly LabelSetting[];
}

/** What a layout is made for. */
export interface LayoutTask {
  /** What is shown. */
  readonly model: ChromatogramModel;
  /** Size and labels. */
  readonly settings: LayoutSettings;
  /** Levels at the ends of the first view. */
  readonly range: SignalRange;
  /** Parts of the subtitle. */
  readonly subtitle: readonly string[];
}

/** Places of one view, or of two with the same scale of time; without `view` the second is only sized. */
export function layOut(task: LayoutTask, count: 1 | 2, view?: Magnification): Layout {
  const { model, settings, range, subtitle } = task;
  const peaks = sharePeaks(model, view);
  const right = settings.width - 30;
  const lines = joinParts(subtitle, look.textSize, right - leastLeft).slice(0, 3);
  const wanted = peaks.map((own, i) =>
    labelSetting(own, settings.labels, right - leastLeft, i === 0 && model.bands.length > 0),
  );
  const { height, top, views } = shareHeight(task, count, lines.length, wanted[0]!.strip);

  const firstStrip = Math.round(Math.min(wanted[0]!.strip, 0.55 * views[0]!));
  const margin = settings.low === 'automatic' ? Math.min(wanted[0]!.margin, 0.25 * views[0]!) : 0;
  const first = panelAt(top, views[0]!, firstStrip, margin, range.low, range.high);
  const panels = [first];
  const labels = [{ ...wanted[0]!, strip: firstStrip }];
  if (count === 2) {
    const whole = views[1]!;
    // The second view stretches the first by its factor, to the pixel; its labels may stand beside what it cuts off.
    const scale = (view?.factor ?? 1) * (Math.abs(first.y.end - first.y.start) / (first.y.to - first.y.from));
    const headroom = view === undefined ? 0 : whole - wanted[1]!.margin - (view.high - view.low) * scale;
    const strip = Math.round(Math.min(Math.max(12, wanted[1]!.strip - Math.max(0, headroom)), 0.55 * whole));
    const below = Math.round(Math.min(wanted[1]!.margin, 0.25 * whole));
    const span = (Math.round(whole - strip) - below) / scale;
    const low = view?.low ?? range.low;
    panels.push(panelAt(first.bottom + panelGap, whole, strip, below, low, low + span));
    labels.push({ ...wanted[1]!, strip });
  }
  const left = Math.round(Math.max(leastLeft, ...panels.map(({ y }) => axisRoom(ticksOf(y, signalTickSpacing)) + 14)));
  const x = { from: model.from, to: model.to, start: left, end: right };
  const frames = panels.map((panel) => ({ ...panel, left, right, x, prefix: '' }));
  return { height, subtitle: lines, frames, peaks, labels };
}

/** Peaks with their apex in the window, by the view that labels them. */
function sharePeaks(model: ChromatogramModel, view: Magnification | undefined): [PeakShape[], PeakShape[]] {
  const shown = model.peaks.filter(({ peak }) => peak.retentionTime >= model.from && peak.retentionTime <= model.to);
  const small = new Set(view?.peaks ?? []);
  return [shown.filter((shape) => !small.has(shape)), shown.filter((shape) => small.has(shape))];
}

/** Height of the picture, where the views begin, and how much each of them gets. */
function shareHeight(
  { model, settings }: LayoutTask,
  count: 1 | 2,
  lines: number,
  strip: number,
): { height: number; top: number; views: number[] } {
  const right = settings.width - 30;
  const withLegend = settings.height === 'automatic' || settings.height >= noLegendBelow;
  const rows = withLegend
    ? legend(leastLeft, legendEnd(right), 0, legendContent(model, settings.rejected, '')).rows
    : 1;
  const top = headingHeight(lines);
  const fixed = top + axisHeight + 21 * (rows - 1) + count * panelTitleHeight + (count - 1) * panelGap;
  const room = (count === 1 ? 284 : 470) + Math.max(0, strip - oneRow);
  const height = settings.height === 'automatic' ? fixed + room : settings.height;
  const inner = Math.max(height - fixed, 20 * count);
  const second = settings.height === 'automatic' ? 220 : 0.46 * inner;
  return { height, top, views: count === 1 ? [inner] : [inner - second, second] };
}

/** One view below `start`, its labels in a strip above the signal. */
function panelAt(start: number, whole: number, strip: number, margin: number, low: number, high: number): Panel {
  const top = start + panelTitleHeight + strip;
  const bottom = top + Math.round(whole - strip);
  return { top, bottom, y: { from: low, to: high, start: bottom - Math.round(margin), end: top } };
}

/** [px] Where the legend must end to leave room for the title of the axis. */
export function legendEnd(right: number): number {
  return right - 96;
}

/** What the legend of a picture has to explain. */
export function legendContent(model: ChromatogramModel, rejected: boolean, prefix: string): LegendContent {
  return { areas: model.peaks.length > 0, bands: model.bands.length > 0, rejected, prefix };
}
