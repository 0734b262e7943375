import { checkFields, checkPositive, checkText, defined, failOption, type Warning } from '../core/index.js';
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

const checks = { name: checkText, retentionTime: checkPositive, window: checkPositive };

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
  for (const { name, p, inside } of pairs) {
    if (inside && names[p] === undefined && !names.includes(name)) names[p] = name;
  }
  return {
    peaks: peaks.map((peak, p) => (peak.name === names[p] ? peak : (defined({ ...peak, name: names[p] }) as P))),
    warnings: components.flatMap((component) => doubt(component, pairs, names)),
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
  /** Whether it lies in the window. */
  readonly inside: boolean;
}

/** All pairs, the closest first; of equal ones in the order of components and peaks. */
function pairUp(peaks: readonly NameablePeak[], components: readonly Component[]): Pair[] {
  const pairs = components.flatMap(({ name, retentionTime, window }) =>
    peaks.map(({ retentionTime: time }, p) => {
      const distance = Math.abs(time - retentionTime);
      // a peak exactly at the end must not fall out by the rounding of the difference
      return { name, p, time, distance, inside: distance <= window + 4e-16 * retentionTime };
    }),
  );
  return pairs.sort((a, b) => a.distance - b.distance);
}

function doubt(
  { name, retentionTime, window }: Component,
  pairs: readonly Pair[],
  names: readonly (string | undefined)[],
): Warning[] {
  const all = pairs.filter((pair) => pair.name === name);
  const own = all.find(({ p }) => names[p] === name);
  const [closest] = all;
  const next = all.find(({ p }) => names[p] === undefined);
  const warnings: Warning[] = [];
  const warn = (code: string, at: number, words: string): void => {
    const message = `${name}, expected at ${short(retentionTime)} ± ${short(window)} min: ${words}.`;
    warnings.push({ code: `component-${code}`, message, at });
  };
  if (closest?.inside && closest !== own) {
    warn('contested', closest.time, `the peak at ${short(closest.time)} min is closer to ${names[closest.p]!}`);
  }
  const other = next === undefined ? '' : `; the nearest without a name is at ${short(next.time)} min`;
  if (own === undefined) warn('missing', retentionTime, `no peak${other}`);
  else if (next?.inside) warn('ambiguous', own.time, `a peak${other}`);
  return warnings;
}

/** Refuses components that are not whole, and a name that stands twice. */
export function checkComponents(caller: string, components: readonly Component[]): void {
  components.forEach((component, i) => {
    const path = `components[${i}].`;
    checkFields(caller, checks, component, path);
    const { name } = component;
    if (name.trim() === '' || components.findIndex((each) => each.name === name) !== i) {
      failOption(caller, `${path}name`, 'a name no other component has', name);
    }
  });
}

/** Three decimals at most, without trailing zeros. */
function short(value: number): number {
  return Number(value.toFixed(3));
}
