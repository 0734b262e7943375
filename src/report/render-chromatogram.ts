import type { Analysis } from '../analysis/index.js';
import { failOption, resolveOptions } from '../core/index.js';
import { checkSize } from './check-size.js';
import { chromatogramLegend, patterns } from './chromatogram-marks.js';
import { chromatogramModel } from './chromatogram-model.js';
import { chromatogramPanels } from './chromatogram-panels.js';
import { chromatogramDescription, chromatogramSubtitle, chromatogramTitle } from './chromatogram-words.js';
import { figure } from './figure.js';

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
  // What is automatic is absent from here on.
  const given = Object.fromEntries(Object.entries(settings).filter(([, value]) => value !== 'automatic')) as Given;
  const { from, to } = checkSettings(given, analysis.trace.time);
  const { width, height } = given;
  const model = chromatogramModel(analysis, from, to, Math.round(width - 100), given.rejected);
  const title = chromatogramTitle(analysis);
  const description = chromatogramDescription(analysis, model);
  // Patterns are named after what is shown, so that pictures in one page do not take each other's.
  const prefix = `pw${checksum([title, description, width, height].join('\n'))}-`;
  return figure({
    title,
    subtitle: chromatogramSubtitle(analysis, model),
    description,
    width,
    height,
    across: ['time', analysis.units.time, from, to],
    panels: (room) => chromatogramPanels(analysis, model, given, prefix, room),
    entries: chromatogramLegend(model, prefix),
    patterns: patterns(prefix),
  });
}

/** Options with their defaults filled in, without what is automatic. */
type Given = {
  readonly [K in keyof Required<ChromatogramOptions>]:
    | Exclude<Required<ChromatogramOptions>[K], 'automatic'>
    | ('automatic' extends Required<ChromatogramOptions>[K] ? undefined : never);
};

/** Refuses what lies outside the documented ranges; gives the ends of the time shown. */
function checkSettings(given: Given, time: Float64Array): { from: number; to: number } {
  const check = (field: keyof Given, allowed: boolean, expected: string): void => {
    if (!allowed) failOption('renderChromatogram', field, expected, given[field]);
  };
  for (const field of ['from', 'to', 'low', 'high'] as const) {
    check(field, Number.isFinite(given[field] ?? 0), 'a number or "automatic"');
  }
  const { low = -Infinity, high = Infinity, width, height, magnification, labels, rejected } = given;
  checkSize('renderChromatogram', 'width', width, 320);
  if (height !== undefined) checkSize('renderChromatogram', 'height', height, 240);
  const factor = magnification === 'none' ? 1 : (magnification ?? 1);
  check('magnification', factor >= 1 && factor <= 1e6, 'a factor from 1 to 1e6, "automatic" or "none"');
  check('labels', ['name and time', 'time', 'none'].includes(labels), '"name and time", "time" or "none"');
  check('rejected', typeof rejected === 'boolean', 'true or false');
  check('high', high > low, `above low (${low})`);

  const from = given.from ?? time[0] ?? 0;
  const to = given.to ?? time[time.length - 1] ?? from;
  const automatic = given.from === undefined && given.to === undefined;
  check(
    given.to === undefined ? 'from' : 'to',
    to > from || automatic,
    `such that from (${from} min) is before to (${to} min)`,
  );
  // A record of one sample has a place on the axis all the same.
  return { from, to: to > from ? to : from + 1 };
}

/** Eight hexadecimal digits over a text (FNV-1a, 32 bits): a name, not a proof. */
function checksum(text: string): string {
  let sum = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) sum = Math.imul(sum ^ text.charCodeAt(i), 0x01000193);
  return (sum >>> 0).toString(16).padStart(8, '0');
}
