import type { Baseline } from '../baseline/index.js';
import { createWorkspace, type Workspace } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import type { Candidate, RejectedCandidate } from './candidate.js';
import type { FindPeaksOptions } from './find-peaks-options.js';
import type { SetApart } from './set-apart.js';
import { surveyRun } from './survey-run.js';

/**
 * What {@link findPeaks} gives.
 *
 * @public
 */
export interface FoundPeaks {
  /** What is taken for a peak, in order of time. */
  readonly candidates: readonly Candidate[];
  /** What stands out as well but does not look like a peak. */
  readonly apart: readonly SetApart[];
  /** What was looked at and not taken, in order of time. */
  readonly rejected: readonly RejectedCandidate[];
  /** The baseline of the run. */
  readonly baseline: Baseline;
  /** What was asked, with the automatic settings resolved. */
  readonly settings: { readonly [K in keyof FindPeaksOptions]-?: number };
}

/**
 * Finds peaks and the baseline they stand on.
 *
 * 1. The signal is laid out at every coarseness (means of 1, 2, 4 ... samples)
 *    and the noise measured at each, in the quiet parts of the run.
 * 2. Maxima and minima that stand out of the noise at some coarseness are kept,
 *    fine ones first, so that shallow valleys and weak broad peaks are both seen.
 * 3. A baseline is laid through what their flanks leave free (survey), the
 *    extremes are measured against it, and it is laid again around what was
 *    found (final).
 * 4. What stands off the baseline far enough is a candidate, with its reach; what
 *    is shaped like a spike, a bubble or the early disturbance is set apart; the
 *    rest is rejected with the test it failed.
 *
 * Thresholds are in noise, never relative to the largest peak. Both directions
 * are treated alike. An unequal time axis is interpolated for deciding only.
 *
 * @param trace - The record, N samples.
 * @param options - See {@link FindPeaksOptions}; nothing needs to be set.
 * @param workspace - Scratch space to use again from run to run.
 * @returns Candidates, what was set apart, what was rejected, and the baseline.
 * @throws PeakwrightError `option-unknown`; `trace-too-short` below 16 samples.
 *
 * @public
 */
export function findPeaks(
  trace: Trace,
  options: FindPeaksOptions = {},
  workspace: Workspace = createWorkspace(),
): FoundPeaks {
  const { candidates, apart, rejected, baseline, settings } = surveyRun(trace, options, workspace);
  return { candidates, apart, rejected, baseline, settings };
}
