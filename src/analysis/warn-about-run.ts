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
    const message = 'Nothing stands out far enough to be a peak.';
    warnings.push({ code: 'no-peaks', message });
  }
  for (const { apex, sigma } of found.candidates) {
    const samples = sigma / found.pyramid.step;
    if (samples >= fewestPerSigma) continue;
    const message = `The peak at ${apex.toFixed(3)} min has ${samples.toFixed(1)} samples per standard deviation: its height and widths suffer.`;
    warnings.push({ code: 'few-samples', message, at: apex });
  }
  if (found.candidates.length > 0 && trace.meta.timeOrigin === 'start of record') {
    const message =
      'Time counts from the start of the record: retention times and plates are right only if that was the injection.';
    warnings.push({ code: 'injection-unknown', message });
  }
  return warnings;
}
