import type { Warning } from '../core/index.js';
import type { IntegratedPeak } from '../integration/index.js';
import type { SurveyedRun } from '../peaks/index.js';
import type { Trace } from '../trace/index.js';

/** [points] Samples per standard deviation below which height and widths suffer. */
const fewestPerSigma = 3;

/** What to doubt about a run as a whole. */
export function warnAboutRun(trace: Trace, found: SurveyedRun, peaks: readonly IntegratedPeak[]): Warning[] {
  const warnings: Warning[] = [...trace.warnings];
  if (peaks.length === 0) {
    warnings.push({
      code: 'no-peaks',
      message: `Nothing stands out of the noise far enough to be called a peak; ${found.rejected.length} places were looked at.`,
    });
  }
  const { step } = found.pyramid;
  const coarse = found.candidates.filter((c) => c.sigma < fewestPerSigma * step);
  for (const c of coarse) {
    warnings.push({
      code: 'few-samples',
      message: `The peak at ${c.apex.toFixed(3)} min has ${(c.sigma / step).toFixed(1)} samples per standard deviation: its area holds, its height and widths suffer.`,
      at: c.apex,
    });
  }
  const first = found.candidates[0];
  if (first !== undefined && trace.meta.timeOrigin === 'start of record') {
    warnings.push({
      code: 'injection-unknown',
      message:
        'Time counts from the start of the record, since no moment of injection was given: retention times and plate numbers are right only if both fell together.',
    });
  }
  return warnings;
}
