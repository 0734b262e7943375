import { defined, failOption, resolveOptions, type Warning } from '../core/index.js';
import type { Analysis } from './analysis.js';

/**
 * A substance and when it is expected.
 *
 * @public
 */
export interface Component {
  /** Name; given to the peak. */
  readonly name: string;
  /** [min] Expected retention time. */
  readonly retentionTime: number;
  /** [min] Half width of the window: a peak may come this much earlier or later. */
  readonly window: number;
}

/**
 * What identification needs of a peak.
 *
 * @public
 */
export interface NameablePeak {
  /** [min] When it came. */
  readonly retentionTime: number;
  /** Name it has so far. */
  readonly name?: string;
}

/** The fields a component may have. */
const blank: Component = { name: '', retentionTime: 0, window: 0 };

/**
 * Names peaks by retention time.
 *
 * Each component takes the peak closest to its expected time inside its window,
 * both ends included. A peak gets one name: of two components that want the same
 * peak the closer one has it, and the other takes its next. Of equal distances
 * the component named first and the earlier peak come first. Peaks that no
 * component takes lose a name they had.
 *
 * @param peaks - Peaks in order of time; read, never changed.
 * @param components - What to look for, each name once.
 *
 * @returns The peaks in the same order, named, and warnings, in the order of the
 *   components: `component-missing` (with the nearest peak that has no name),
 *   `component-ambiguous` when another peak lies in the window, and
 *   `component-contested` when the closest peak went to another component.
 *
 * @throws {@link PeakwrightError} `option-invalid` for a component without a
 *   usable name, time or window or with the name of another, `option-unknown`
 *   for a field that is not known.
 *
 * @example
 * ```ts
 * const peaks = [{ retentionTime: 4.1 }, { retentionTime: 6.52 }];
 * const found = identifyPeaks(peaks, [{ name: 'vanillin', retentionTime: 6.5, window: 0.2 }]);
 * found.peaks[1].name; // => 'vanillin'
 * ```
 *
 * @public
 */
export function identifyPeaks<P extends NameablePeak>(
  peaks: readonly P[],
  components: readonly Component[],
): { readonly peaks: readonly (P & { readonly name?: string })[]; readonly warnings: readonly Warning[] } {
  checkComponents('identifyPeaks', components);
  const pairs = pairUp(peaks, components);
  const names: (string | undefined)[] = peaks.map(() => undefined);
  for (const { name, p, outside } of pairs) {
    if (outside <= 0 && names[p] === undefined && !names.includes(name)) names[p] = name;
  }
  return {
    peaks: peaks.map((peak, p) => (peak.name === names[p] ? peak : (defined({ ...peak, name: names[p] }) as P))),
    warnings: components.flatMap((component) => report(component, pairs, names)),
  };
}

/**
 * The analysis with its peaks named by {@link identifyPeaks}; warnings of an
 * earlier identification are replaced.
 *
 * @param analysis - Read, never changed.
 * @param components - What to look for.
 *
 * @throws {@link PeakwrightError} as {@link identifyPeaks}.
 *
 * @public
 */
export function identifyComponents(analysis: Analysis, components: readonly Component[]): Analysis {
  const { peaks, warnings } = identifyPeaks(analysis.peaks, components);
  const others = analysis.warnings.filter(({ code }) => !code.startsWith('component-'));
  return { ...analysis, peaks, warnings: [...others, ...warnings] };
}

/** A component beside a peak. */
interface Pair {
  readonly name: string;
  /** Index of the peak. */
  readonly p: number;
  /** [min] When the peak came. */
  readonly time: number;
  /** [min] How far that is from the expected time. */
  readonly distance: number;
  /** [min] How far it is outside the window. */
  readonly outside: number;
}

/** All pairs, the closest first; of equal ones in the order of components and peaks. */
function pairUp(peaks: readonly NameablePeak[], components: readonly Component[]): Pair[] {
  const pairs = components.flatMap(({ name, retentionTime, window }) =>
    peaks.map(({ retentionTime: time }, p) => {
      const distance = Math.abs(time - retentionTime);
      // a peak exactly at the end must not fall out by the rounding of the difference
      return { name, p, time, distance, outside: distance - window - 4e-16 * retentionTime };
    }),
  );
  return pairs.sort((a, b) => a.distance - b.distance);
}

function report(component: Component, pairs: readonly Pair[], names: readonly (string | undefined)[]): Warning[] {
  const { name, retentionTime, window } = component;
  const warnings: Warning[] = [];
  const warn = (code: string, at: number, message: string): void => {
    const expected = `${name} is expected at ${minutes(retentionTime)} ± ${minutes(window)}`;
    warnings.push({ code, message: `${expected}: ${message}.`, at });
  };
  const all = pairs.filter((pair) => pair.name === name);
  const free = all.filter(({ p }) => names[p] === undefined);
  const own = all.find(({ p }) => names[p] === name);
  const closest = all[0];
  if (closest !== own && closest!.outside <= 0) {
    warn(
      'component-contested',
      closest!.time,
      `the closest peak, at ${minutes(closest!.time)}, is closer to ${names[closest!.p]!}`,
    );
  }
  const others = free.filter(({ outside }) => outside <= 0).map(({ time }) => minutes(time));
  if (own === undefined) {
    const near = free.map(
      ({ time, outside }) => `; the nearest without a name, at ${minutes(time)}, lies ${minutes(outside)} outside`,
    );
    warn('component-missing', retentionTime, `no peak was found there${near[0] ?? ''}`);
  } else if (others.length > 0) {
    warn(
      'component-ambiguous',
      own.time,
      `the closest peak, at ${minutes(own.time)}, was taken; without a name is also ${others.join(', ')}`,
    );
  }
  return warnings;
}

/** Refuses components that are not whole, and a name that stands twice. */
export function checkComponents(caller: string, components: readonly Component[]): void {
  components.forEach((component, i) => {
    const at = `components[${i}]`;
    const { name } = resolveOptions(caller, blank, component, `${at}.`);
    const check = (ok: boolean, field: keyof Component, expected: string): void => {
      if (!ok) failOption(caller, `${at}.${field}`, expected, component[field]);
    };
    check(typeof name === 'string' && name.trim() !== '', 'name', 'a name');
    check(components.findIndex((each) => each.name === name) === i, 'name', 'a name no other component has');
    for (const field of ['retentionTime', 'window'] as const) {
      check(Number.isFinite(component[field]) && component[field] > 0, field, 'a number of minutes above 0');
    }
  });
}

/** Three decimals at most, without trailing zeros. */
function minutes(value: number): string {
  return `${Number(value.toFixed(3))} min`;
}
