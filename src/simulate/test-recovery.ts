import { analyse, type Method } from '../analysis/index.js';
import { defined, type Warning } from '../core/index.js';
import { createWorkspace } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { findAdded, withPeaks, type AddedPeak } from './added-peaks.js';
import { checkRecovery } from './check-recovery.js';
import { peakCurve } from './peak-curve.js';
import type { PeakRecipe } from './peak-recipe.js';
import type { PeakRecovery, RecoveredPeak, Recovery, RecoveryOptions } from './recovery.js';
import { recoveryLimits } from './recovery-limits.js';
import { drawShifts } from './recovery-shifts.js';
import { measureSingle } from './single-peak.js';
import { summariseRepeats, type RepeatSummary } from './summarise-repeats.js';

const caller = 'testRecovery';

/**
 * Adds known peaks to a record of the user's own, a blank or a run, analyses it
 * anew, and says how much of them comes back; repeated at moved positions, so that
 * baseline, noise and sampling below them are those of this very record.
 *
 * Where the record has a peak of its own within half a Gaussian sigma of an added
 * one, the area it had before is taken off: a standard addition. The limits are
 * found by trying: the peak is made smaller or larger, the others left as they
 * are, and all repeats analysed anew. The limit of detection is the smallest peak that is
 * found in `foundShare` of the repeats; the limit of quantification the smallest
 * that is also measured with a root mean square error, bias included, of at most
 * `errorShare`. They are limits of this record and these settings, not of a
 * method of analysis, and differ from those computed from the standard deviation of a blank.
 *
 * The readings of the record are taken as they are: a ceiling or a step of the
 * converter that they have does not act on what is added.
 *
 * @param blank - The record to add to; N samples.
 * @param peaks - What to add; see {@link PeakRecipe}.
 * @param method - What to do otherwise than by default; see {@link Method}.
 * @param options - Repeats, places and definitions; see {@link RecoveryOptions}.
 *
 * @returns For each peak recovery, bias, repeatability and limits; with warnings for what cannot be given.
 *
 * @throws {@link PeakwrightError} `option-invalid` or `option-unknown` for a peak, setting or option that cannot be
 *   followed, or a place outside the record; `trace-too-short` below 16 samples.
 *
 * @example
 * ```ts
 * const { trace: blank } = simulateTrace({ duration: 10, interval: 0.2, noise: { white: 0.05 }, seed: 1 });
 * const added = [{ shape: 'gaussian', retentionTime: 5, height: 50, sigma: 0.05 }] as const;
 * const { peaks } = testRecovery(blank, added, {}, { limits: false });
 * peaks[0].foundShare; // => 1
 * Math.abs(peaks[0].bias) < 0.002; // => true
 * ```
 *
 * @public
 */
export function testRecovery(
  blank: Trace,
  peaks: readonly PeakRecipe[],
  method: Partial<Method> = {},
  options: RecoveryOptions = {},
): Recovery {
  const settings = checkRecovery(caller, peaks, options);
  const added = peaks.map((peak): AddedPeak => {
    const curve = peakCurve(peak);
    return { curve, single: measureSingle(curve) };
  });
  const workspace = createWorkspace();
  const before = analyse(blank, method, workspace);
  const { shifts, onePlace } = drawShifts(caller, before, added, settings);
  const ownAreas = shifts.map((shift) => findAdded(before, added, shift).map((peak) => peak?.area));

  /** Every repeat of every peak, with peak k made `scale` times as large. */
  const repeat = (k: number, scale: number): RecoveredPeak[][] => {
    const scales = added.map((_, i) => (i === k ? scale : 1));
    return shifts.map((shift, r) => {
      const found = findAdded(analyse(withPeaks(blank, added, shift, scales), method, workspace), added, shift);
      return added.map(({ curve: { position, area: whole } }, i) => {
        const area = found[i] && found[i].area - (ownAreas[r]![i] ?? 0);
        const recovery = area === undefined ? undefined : area / (whole * scales[i]!);
        return defined({ retentionTime: position + shift, area, recovery });
      });
    });
  };

  const asGiven = repeat(-1, 1);
  const results = added.map(({ curve }, k): PeakRecovery => {
    const { name, retentionTime } = peaks[k]!;
    const repeats = asGiven.map((r) => r[k]!);
    const summary = summariseRepeats(repeats);
    const { foundShare, recovery, bias, biasUncertainty, repeatability } = summary;
    const warnings: Warning[] = [];
    const say = (code: string, message: string): void => {
      warnings.push({ code, message: `The peak added at ${retentionTime} min ${message}`, at: retentionTime });
    };
    const missed = repeats.filter(({ area }) => area === undefined).length;
    if (missed > 0) say('recovery-missed', `was not found in ${missed} of ${repeats.length} repeats; the figures are of the others.`); // prettier-ignore
    const isThere = ownAreas.some((r) => r[k] !== undefined);
    if (isThere) say('recovery-peak-there', 'has one of the record at its place, whose area was taken off; no limits are given.'); // prettier-ignore
    const trial = (scale: number): RepeatSummary =>
      scale === 1 ? summary : summariseRepeats(repeat(k, scale).map((r) => r[k]!));
    const limits = settings.limits && !isThere ? recoveryLimits(curve, trial, settings, say) : {};
    const figures = { foundShare, ...defined({ recovery, bias, biasUncertainty, repeatability }) };
    return { ...defined({ name }), retentionTime, area: curve.area, ...figures, ...limits, repeats, warnings };
  });
  return { peaks: results, before, warnings: onePlace ? [onePlaceWarning] : [] };
}

const onePlaceWarning: Warning = {
  code: 'recovery-one-place',
  message:
    'The peaks were moved by less than their width, so that the noise below them is nearly the same in all repeats: repeatability and limits are those of one stretch of noise, and too good.',
};
