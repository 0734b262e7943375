import { failOption, nearest, PeakwrightError, type Warning } from '../core/index.js';
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

const fields = ['name', 'retentionTime', 'window'];

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
 *   components: `component-missing` (with the nearest peak when it lies within
 *   two windows), `component-ambiguous` when another peak lies in the window, and
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
  const owner = assign(peaks, components);
  const warnings = components.flatMap((component, c) => report(component, c, peaks, components, owner));
  const named = peaks.map((peak, p) => {
    const name = owner[p] === undefined ? undefined : components[owner[p]]!.name;
    if (peak.name === name) return peak;
    const copy: P & { name?: string } = { ...peak };
    delete copy.name;
    return name === undefined ? copy : { ...copy, name };
  });
  return { peaks: named, warnings };
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

/** For each peak the index of the component that has it; pairs are dealt out closest first. */
function assign(peaks: readonly NameablePeak[], components: readonly Component[]): (number | undefined)[] {
  const pairs = components.flatMap((component, c) =>
    inWindow(peaks, component).map((p) => ({
      c,
      p,
      distance: Math.abs(peaks[p]!.retentionTime - component.retentionTime),
    })),
  );
  pairs.sort((a, b) => a.distance - b.distance || a.c - b.c || a.p - b.p);
  const owner: (number | undefined)[] = peaks.map(() => undefined);
  const served = new Set<number>();
  for (const { c, p } of pairs) {
    if (owner[p] !== undefined || served.has(c)) continue;
    owner[p] = c;
    served.add(c);
  }
  return owner;
}

function inWindow(peaks: readonly NameablePeak[], { retentionTime, window }: Component): number[] {
  // a peak exactly at the end must not fall out by the rounding of the difference
  const reach = window + 4e-16 * retentionTime;
  return peaks.flatMap((peak, p) => (Math.abs(peak.retentionTime - retentionTime) <= reach ? [p] : []));
}

function report(
  component: Component,
  c: number,
  peaks: readonly NameablePeak[],
  components: readonly Component[],
  owner: readonly (number | undefined)[],
): Warning[] {
  const { name, retentionTime, window } = component;
  const candidates = inWindow(peaks, component);
  const own = owner.indexOf(c);
  const distance = (p: number): number => Math.abs(peaks[p]!.retentionTime - retentionTime);
  const expected = `${name} is expected at ${minutes(retentionTime)} ± ${minutes(window)} min`;
  const warnings: Warning[] = [];
  const closest = candidates.reduce((best, p) => (best < 0 || distance(p) < distance(best) ? p : best), -1);
  const rival = closest >= 0 && closest !== own ? owner[closest] : undefined;
  if (rival !== undefined) {
    warnings.push({
      code: 'component-contested',
      message: `${expected}; the closest peak, at ${minutes(peaks[closest]!.retentionTime)} min, is closer to ${components[rival]!.name} and has that name.`,
      at: peaks[closest]!.retentionTime,
    });
  }
  if (own < 0) {
    const nearby = peaks.map((_, p) => p).filter((p) => owner[p] === undefined && distance(p) <= 2 * window);
    const near = nearby.reduce((best, p) => (best < 0 || distance(p) < distance(best) ? p : best), -1);
    const outside =
      near < 0
        ? ''
        : `; the nearest without a name, at ${minutes(peaks[near]!.retentionTime)} min, lies ${minutes(distance(near) - window)} min outside`;
    warnings.push({
      code: 'component-missing',
      message: `${expected}: no peak was found there${outside}.`,
      at: retentionTime,
    });
    return warnings;
  }
  // a peak that bears the name of another component is no candidate any more
  const others = candidates.filter((p) => p !== own && owner[p] === undefined);
  if (others.length > 0) {
    const times = others.map((p) => minutes(peaks[p]!.retentionTime)).join(', ');
    warnings.push({
      code: 'component-ambiguous',
      message: `${expected}: the peak at ${minutes(peaks[own]!.retentionTime)} min was taken as the closest, but ${others.length === 1 ? 'one' : `${others.length}`} more without a name ${others.length === 1 ? 'lies' : 'lie'} in the window, at ${times} min.`,
      at: peaks[own]!.retentionTime,
    });
  }
  return warnings;
}

function checkComponents(caller: string, components: readonly Component[]): void {
  const seen = new Set<string>();
  components.forEach((component, i) => {
    const at = `components[${i}]`;
    for (const field of Object.keys(component)) {
      if (fields.includes(field)) continue;
      const near = nearest(field, fields);
      throw new PeakwrightError(
        'option-unknown',
        `${caller}: ${at} has a field ${field} that is not known${near === undefined ? '' : `; did you mean ${near}?`} There are ${fields.join(', ')}.`,
        { field: `${at}.${field}`, candidates: fields },
      );
    }
    const name: unknown = component.name;
    if (typeof name !== 'string' || name.trim() === '') failOption(caller, `${at}.name`, 'a name', name);
    if (seen.has(component.name)) failOption(caller, `${at}.name`, 'a name no other component has', name);
    seen.add(component.name);
    for (const field of ['retentionTime', 'window'] as const) {
      const value = component[field];
      if (!(Number.isFinite(value) && value > 0))
        failOption(caller, `${at}.${field}`, 'a number of minutes above 0', value);
    }
  });
}

/** Three decimals at most, without trailing zeros. */
function minutes(value: number): string {
  return String(Number(value.toFixed(3)));
}
