import type { PeakCurve } from './peak-curve.js';
import type { PeakRecovery, RecoveryOptions } from './recovery.js';
import { smallestScale } from './smallest-scale.js';
import type { RepeatSummary } from './summarise-repeats.js';

type Limits = Pick<PeakRecovery, 'detectionLimit' | 'quantificationLimit'>;

/**
 * Searches both limits of one peak by trying; what cannot be given is said.
 *
 * @param curve - The peak.
 * @param trial - What the repeats come to when it is so many times as large.
 * @param options - The definitions.
 * @param say - Takes a warning.
 */
export function recoveryLimits(
  { area, height }: PeakCurve,
  trial: (scale: number) => RepeatSummary,
  { foundShare, errorShare }: Required<Pick<RecoveryOptions, 'foundShare' | 'errorShare'>>,
  say: (code: string, message: string) => void,
): Limits {
  const tried = new Map<number, RepeatSummary>();
  const at = (scale: number): RepeatSummary => {
    const known = tried.get(scale) ?? trial(scale);
    tried.set(scale, known);
    return known;
  };
  const isFound = (scale: number): boolean => at(scale).foundShare >= foundShare - 1e-9;
  const isMeasured = (scale: number): boolean => isFound(scale) && (at(scale).error ?? Infinity) <= errorShare;

  const found = `found in ${percent(foundShare)} of the repeats`;
  const measured = `${found}, with a root mean square error of the area of at most ${percent(errorShare)}`;
  const result: { -readonly [K in keyof Limits]: Limits[K] } = {};
  for (const [key, what, definition, holds] of [
    ['detectionLimit', 'detection', found, isFound],
    ['quantificationLimit', 'quantification', measured, isMeasured],
  ] as const) {
    const search = smallestScale(holds);
    if ('scale' in search) result[key] = { area: area * search.scale, height: height * search.scale, definition };
    else say('recovery-limit-absent', `has no limit of ${what}: ${reasons[search.missing]} ${definition}.`);
  }
  return result;
}

const reasons = {
  'never holds': 'not even 1024 times as large is it',
  'holds everywhere': 'even 16384 times smaller it is',
};

function percent(share: number): string {
  return `${Number((100 * share).toPrecision(3))} %`;
}
