import { checkNumber, checkWhole, failOption, resolveOptions } from '../core/index.js';
import { checkPeak } from './check-recipe.js';
import type { PeakRecipe } from './peak-recipe.js';
import type { RecoveryOptions } from './recovery.js';

const defaults: Required<RecoveryOptions> = {
  repeats: 20,
  places: [],
  moveBy: 'automatic',
  seed: 1,
  limits: true,
  foundShare: 0.95,
  errorShare: 0.1,
};

/** The options with their defaults; throws `option-invalid` or `option-unknown` naming the field. */
export function checkRecovery(
  caller: string,
  peaks: readonly PeakRecipe[],
  options: RecoveryOptions,
): Required<RecoveryOptions> {
  if (!Array.isArray(peaks) || peaks.length === 0) failOption(caller, 'peaks', 'at least one peak to add', peaks);
  peaks.forEach((peak, i) => {
    checkPeak(caller, `peaks[${i}]`, peak);
    if (((peak as PeakRecipe).height ?? (peak as PeakRecipe).area) === 0)
      failOption(caller, `peaks[${i}].height`, 'other than 0', 0);
  });
  const settings = resolveOptions(caller, defaults, options);
  const { repeats, places, moveBy, seed, limits, foundShare, errorShare } = settings;
  checkWhole(caller, 'repeats', repeats, 2);
  if (!Array.isArray(places)) failOption(caller, 'places', 'an array of times', places);
  places.forEach((place, i) => {
    checkNumber(caller, `places[${i}]`, place);
  });
  if (moveBy !== 'automatic')
    checkNumber(caller, 'moveBy', moveBy, "a number of at least 0 or 'automatic'", (v) => v >= 0);
  checkWhole(caller, 'seed', seed, 0, 4294967295);
  if (typeof limits !== 'boolean') failOption(caller, 'limits', 'true or false', limits);
  checkNumber(caller, 'foundShare', foundShare, 'above 0 and at most 1', (v) => v > 0 && v <= 1);
  checkNumber(caller, 'errorShare', errorShare, 'a number above 0', (v) => v > 0);
  return settings;
}
