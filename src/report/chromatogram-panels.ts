import type { Analysis } from '../analysis/index.js';
import { chromatogramLabels, labelSetting, type LabelContent, type LabelSetting } from './chromatogram-labels.js';
import { chromatogramMarks } from './chromatogram-marks.js';
import type { ChromatogramModel, PeakShape } from './chromatogram-model.js';
import type { Panel } from './figure.js';
import { magnification } from './magnification.js';

/** What decides on the views. */
export interface PanelSettings {
  /** [px] Width of the picture. */
  readonly width: number;
  /** [signal unit] Lower end, when given. */
  readonly low: number | undefined;
  /** [signal unit] Upper end, when given. */
  readonly high: number | undefined;
  /** How many times taller a second view is, or that there is none, when given. */
  readonly magnification: number | 'none' | undefined;
  /** What peaks are labelled with. */
  readonly labels: LabelContent;
}

/** The view of a run, or two with the same scale of time, in a given height or as high as they want. */
export function chromatogramPanels(
  analysis: Analysis,
  model: ChromatogramModel,
  settings: PanelSettings,
  prefix: string,
  room: number | undefined,
): Panel[] {
  const { width, labels, magnification: asked } = settings;
  const lines = [...model.line, ...model.peaks.map(({ base }) => base)];
  const levels = [...lines.flat().map(([, level]) => level), ...model.inside.map(({ head }) => head)];
  const [low, high] = signalRange(levels, settings);

  // Whether there is a second view is decided on with about the scale that the first will have.
  const half = room === undefined ? 220 : room / 2 - 44;
  const fixed = settings.low !== undefined || settings.high !== undefined || half < 90;
  const view =
    asked === 'none' || (asked === undefined && fixed)
      ? undefined
      : magnification(model.inside, (0.8 * half) / (high - low), half - 72, analysis.noise.standardDeviation, asked);
  const whole = room === undefined ? undefined : Math.max(view === undefined ? room - 44 : half, 40);

  const settingOf = (peaks: readonly PeakShape[]): LabelSetting =>
    labelSetting(labels === 'none' ? [] : peaks, labels, (width - 80) / (model.to - model.from));
  /** [px] Heights of the strip and of the view: as wanted, or what the room allows. */
  const heights = (strip: number, natural: number): [number, number] => {
    const above = Math.round(Math.min(strip, 0.55 * (whole ?? Infinity)));
    return [above, Math.round(whole === undefined ? natural : whole - above)];
  };
  const panel = (
    peaks: readonly PeakShape[],
    upright: boolean,
    [strip, height]: readonly [number, number],
    bottom: number,
    scale: number,
    bands: ChromatogramModel['bands'] = [],
    note = '',
  ): Panel => ({
    quantity: ['signal', analysis.units.signal],
    note,
    low: bottom,
    high: bottom + height / scale,
    height,
    strip,
    draw: (x, y) => [chromatogramMarks(model, analysis.units, prefix, x, y)],
    labels: chromatogramLabels(peaks, labels, upright, bands, bottom + height / scale),
    upright,
    lines,
  });

  const large = model.inside.filter((shape) => !view?.peaks.includes(shape));
  const setting = settingOf(large);
  const first = heights(setting.strip, view === undefined ? 240 : 206);
  const margin = settings.low === undefined ? Math.min(setting.margin, first[1] / 4) : 0;
  /** [px per signal unit] */
  const scale = (first[1] - margin) / (high - low);
  const panels = [panel(large, setting.upright, first, low - margin / scale, scale, model.bands)];
  if (view !== undefined) {
    const { upright, strip, margin } = settingOf(view.peaks);
    const second = heights(upright ? strip : 12, 208);
    const taller = view.factor * scale;
    const bottom = view.low - Math.min(margin, second[1] / 4) / taller;
    const note = ` × ${view.factor}: the same run drawn taller; what is cut off here is whole above`;
    panels.push(panel(view.peaks, upright, second, bottom, taller, [], note));
  }
  return panels;
}

/** [signal unit] Lowest and highest level to show; never an empty span. */
function signalRange(levels: readonly number[], asked: PanelSettings): [low: number, high: number] {
  let low = asked.low ?? levels.reduce((a, b) => Math.min(a, b), levels[0] ?? 0);
  let high = asked.high ?? levels.reduce((a, b) => Math.max(a, b), levels[0] ?? 1);
  const size = Math.max(Math.abs(low), Math.abs(high));
  if (!(high - low > 1e-9 * size)) {
    const room = 0.05 * size || 1;
    if (asked.low === undefined) low = Math.min(low, high) - room;
    if (asked.high === undefined) high = low + 2 * room;
  }
  return [low, high];
}
