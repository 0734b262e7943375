import type { Analysis } from '../analysis/index.js';
import { chromatogramLabels, type LabelContent } from './chromatogram-labels.js';
import { chromatogramMarks } from './chromatogram-marks.js';
import type { ChromatogramModel, PeakShape } from './chromatogram-model.js';
import type { Panel } from './figure.js';
import { magnification } from './magnification.js';

/** What decides on the views. */
export interface PanelSettings {
  /** [px] Width of the picture. */
  readonly width: number;
  /** [px] Height of the picture, when given. */
  readonly height: number | undefined;
  /** [signal unit] Lower end, when given. */
  readonly low: number | undefined;
  /** [signal unit] Upper end, when given. */
  readonly high: number | undefined;
  /** How many times taller a second view is, or that there is none, when given. */
  readonly magnification: number | 'none' | undefined;
  /** What peaks are labelled with. */
  readonly labels: LabelContent | 'none';
}

/** The view of a run, or two with the same scale of time. */
export function chromatogramPanels(
  { units, noise }: Analysis,
  model: ChromatogramModel,
  settings: PanelSettings,
): Panel[] {
  const { width, height = 400, magnification: asked, labels } = settings;
  const lines = [...model.line, ...model.peaks.map(({ base }) => base)];
  const levels = [...lines.flat().map(([, level]) => level), ...model.inside.map(({ head }) => head)];
  const [low, high] = signalRange(levels, settings);
  const fixed = settings.low !== undefined || settings.high !== undefined || height < 400;
  const view =
    asked === 'none' || (asked === undefined && fixed)
      ? undefined
      : magnification(model.inside, high - low, noise.standardDeviation, asked);

  /** [px/min] */
  const scale = (width - 80) / (model.to - model.from);
  const panel = (
    peaks: readonly PeakShape[],
    [low, high]: readonly [number, number],
    bands: ChromatogramModel['bands'] = [],
    note: readonly string[] = [],
  ): Panel => ({
    quantity: ['signal', units.signal],
    note,
    low,
    high,
    height: view === undefined ? 226 : 194,
    draw: (x, y) => [chromatogramMarks(model, x, y)],
    lines,
    ...(labels === 'none' ? { strip: 12, margin: 14 } : chromatogramLabels(peaks, bands, high, labels, scale)),
    ...(settings.low === undefined ? {} : { margin: 0 }),
  });
  if (view === undefined) return [panel(model.inside, [low, high], model.bands)];
  const large = model.inside.filter((shape) => !view.peaks.includes(shape));
  const note = [`drawn ${view.factor} times as tall; what is cut off here is whole above`];
  const taller = panel(view.peaks, [view.low, view.low + (high - low) / view.factor], [], note);
  // Labels that run level stand above small peaks within the view.
  return [panel(large, [low, high], model.bands), { ...taller, strip: taller.upright ? taller.strip : 12 }];
}

/** [signal unit] Lowest and highest level to show; never an empty span. */
function signalRange(levels: readonly number[], asked: PanelSettings): [low: number, high: number] {
  const sorted = Float64Array.from(levels).sort();
  let low = asked.low ?? sorted[0] ?? 0;
  let high = asked.high ?? sorted.at(-1) ?? 1;
  const size = Math.max(Math.abs(low), Math.abs(high));
  if (!(high - low > 1e-9 * size)) {
    const room = 0.05 * size || 1;
    if (asked.low === undefined) low = Math.min(low, high) - room;
    if (asked.high === undefined) high = low + 2 * room;
  }
  return [low, high];
}
