import type { Analysis } from '../analysis/index.js';
import { failOption, resolveOptions } from '../core/index.js';
import { layOut, type LayoutTask } from './chromatogram-layout.js';
import { chromatogramModel } from './chromatogram-model.js';
import { chromatogramSubtitle } from './chromatogram-words.js';
import { drawChromatogram } from './draw-chromatogram.js';
import { magnification, type Magnification } from './magnification.js';
import type { PanelFrame } from './panel-frame.js';
import { signalRange } from './signal-range.js';

/**
 * Options of {@link renderChromatogram}.
 *
 * @public
 */
export interface ChromatogramOptions {
  /**
   * [min] Left end of the time shown; `'automatic'` is the first sample.
   *
   * @defaultValue 'automatic'
   */
  readonly from?: number | 'automatic';
  /**
   * [min] Right end of the time shown, later than `from`; `'automatic'` is the last sample.
   *
   * @defaultValue 'automatic'
   */
  readonly to?: number | 'automatic';
  /**
   * [signal unit] Lower end of the signal shown; `'automatic'` holds everything in the time shown.
   *
   * @defaultValue 'automatic'
   */
  readonly low?: number | 'automatic';
  /**
   * [signal unit] Upper end of the signal shown, above `low`; `'automatic'` holds everything in the time shown.
   *
   * @defaultValue 'automatic'
   */
  readonly high?: number | 'automatic';
  /**
   * [px] Width of the picture, 320 to 8000.
   *
   * @defaultValue 960
   */
  readonly width?: number;
  /**
   * [px] Height of the picture, 240 to 8000; `'automatic'` is about 440, 680 with a second view, and more when
   * many labels need rows of their own.
   *
   * @defaultValue 'automatic'
   */
  readonly height?: number | 'automatic';
  /**
   * [-] How many times taller a second view below draws the signal; `'automatic'` adds one when a peak would be less
   * than 12 px high and no `low` or `high` is given, `'none'` never does.
   *
   * @defaultValue 'automatic'
   */
  readonly magnification?: number | 'automatic' | 'none';
  /**
   * What the peaks are labelled with.
   *
   * @defaultValue 'name and time'
   */
  readonly labels?: 'name and time' | 'time' | 'none';
  /**
   * Whether the places that were looked at and not taken as peaks are marked with circles.
   *
   * @defaultValue false
   */
  readonly rejected?: boolean;
}

const defaults: Required<ChromatogramOptions> = {
  from: 'automatic',
  to: 'automatic',
  low: 'automatic',
  high: 'automatic',
  width: 960,
  height: 'automatic',
  magnification: 'automatic',
  labels: 'name and time',
  rejected: false,
};

/**
 * Draws a run: the signal, what was integrated and on which baseline, as SVG.
 *
 * The shaded areas are the integrated ones: between the signal and the
 * baseline of the peak, from its start to its end, both between samples.
 * Neighbouring areas differ in lightness and in hatching. Limits are upright
 * ticks, joined to the signal where a drop line divides peaks. What was set
 * apart as no peak is dotted and named. Labels never overlap; when there is no
 * room for one, the picture says how many are missing. Pointing at a peak
 * shows its numbers and the reason for its limits.
 *
 * A million samples draw like a thousand: each pixel column keeps its first,
 * lowest, highest and last sample. A gap of the record breaks the line. The
 * text is the same, byte for byte, on every engine; every text from a file is
 * escaped.
 *
 * @param analysis - The run; only read.
 * @param options - Window, size and what to mark; see {@link ChromatogramOptions}.
 *
 * @returns An SVG document without an XML declaration, so that it can also stand inside HTML.
 *
 * @throws {@link PeakwrightError} `option-unknown`, `option-invalid`, and `plan-invalid` when a peak stands on a
 *   baseline that the plan does not have.
 *
 * @example
 * A picture of ten minutes with one peak, ready to be written to a file or put into a page.
 * ```ts
 * const peak = { shape: 'gaussian', retentionTime: 4, height: 100, sigma: 0.05 } as const;
 * const { trace } = simulateTrace({ duration: 10, interval: 0.5, peaks: [peak] });
 * renderChromatogram(analyse(trace)).slice(0, 4); // => '<svg'
 * ```
 *
 * @public
 */
export function renderChromatogram(analysis: Analysis, options: ChromatogramOptions = {}): string {
  const settings = resolveOptions('renderChromatogram', defaults, options);
  const { from, to } = checkSettings(settings, analysis);
  const model = chromatogramModel(analysis, from, to, Math.max(1, Math.round(settings.width - 100)));
  const zoomed = settings.low !== 'automatic' || settings.high !== 'automatic';
  const task = {
    model,
    settings,
    range: signalRange(model, settings),
    subtitle: chromatogramSubtitle(analysis, model),
  };
  const view =
    settings.magnification === 'none' || (zoomed && settings.magnification === 'automatic')
      ? undefined
      : secondView(analysis, task, settings.magnification);
  const layout = view === undefined ? layOut(task, 1) : layOut(task, 2, view);
  return drawChromatogram(analysis, task, layout, view);
}

/** Options with their defaults filled in. */
type Resolved = Required<ChromatogramOptions>;

/** Refuses what lies outside the documented ranges; gives the ends of the time shown. */
function checkSettings(settings: Resolved, analysis: Analysis): { from: number; to: number } {
  const fail = (field: keyof Resolved, expected: string): never =>
    failOption('renderChromatogram', field, expected, settings[field]);
  const within = (value: number | string, low: number, high: number): boolean =>
    typeof value === 'number' && value >= low && value <= high;
  for (const field of ['from', 'to', 'low', 'high'] as const) {
    if (settings[field] !== 'automatic' && !Number.isFinite(settings[field])) fail(field, 'a number or "automatic"');
  }
  const { width, height, magnification: factor, labels, rejected, low, high } = settings;
  if (!within(width, 320, 8000)) fail('width', 'from 320 to 8000 px');
  if (height !== 'automatic' && !within(height, 240, 8000)) fail('height', 'from 240 to 8000 px or "automatic"');
  if (factor !== 'automatic' && factor !== 'none' && !within(factor, 1, 1e6)) {
    fail('magnification', 'a factor from 1 to 1e6, "automatic" or "none"');
  }
  if (!['name and time', 'time', 'none'].includes(labels)) fail('labels', '"name and time", "time" or "none"');
  if (typeof rejected !== 'boolean') fail('rejected', 'true or false');
  if (low !== 'automatic' && high !== 'automatic' && !(high > low)) fail('high', `above low (${low})`);
  return timeRange(settings, analysis, fail);
}

function timeRange(
  settings: Resolved,
  { trace: { time } }: Analysis,
  fail: (field: 'from' | 'to', expected: string) => never,
): { from: number; to: number } {
  const first = time[0] ?? 0;
  const from = settings.from === 'automatic' ? first : settings.from;
  const to = settings.to === 'automatic' ? (time[time.length - 1] ?? first + 1) : settings.to;
  if (to > from) return { from, to };
  // A record of one sample has a place on the axis all the same.
  if (settings.from === 'automatic' && settings.to === 'automatic') return { from, to: from + 1 };
  const [field, expected] =
    settings.to === 'automatic'
      ? (['from', `earlier than the last sample (${to} min)`] as const)
      : (['to', `later than from (${from} min)`] as const);
  return fail(field, expected);
}

/** The second view, sized on a layout with room for it. */
function secondView(analysis: Analysis, task: LayoutTask, asked: number | 'automatic'): Magnification | undefined {
  const { frames, peaks, labels } = layOut(task, 2);
  const [first, second] = frames as [PanelFrame, PanelFrame];
  const cramped = second.bottom - second.top < 90 || first.bottom - first.top < 90;
  if (cramped && asked === 'automatic') return undefined;
  const scale = Math.abs(first.y.end - first.y.start) / (first.y.to - first.y.from);
  const room = second.bottom - second.top - labels[0]!.margin;
  return magnification(peaks[0]!, scale, room, analysis.noise.standardDeviation, asked);
}
