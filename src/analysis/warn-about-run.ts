import type { Warning } from '../core/index.js';
import type { IntegratedPeak } from '../integration/index.js';
import type { SurveyedRun } from '../peaks/index.js';
import type { AxisFaults, Noise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';

/** [points] Samples per standard deviation below which height and widths suffer. */
const fewestPerSigma = 3;

/** What to doubt about a run as a whole. */
export function warnAboutRun(
  trace: Trace,
  found: SurveyedRun,
  peaks: readonly IntegratedPeak[],
  noise: Noise,
  axis: AxisFaults,
): Warning[] {
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
  const highest = peaks.reduce((most, { height }) => Math.max(most, Math.abs(height)), 0);
  return [...warnings, ...recordingWarnings(trace, noise, axis, rounded * highest)];
}

/** [-] Steps of the readings over the standard deviation of the noise from which they matter: an eighth of the variance. Our own. */
const coarse = 1.25;
/** [-] Steps smaller than this part of the highest peak are those of numbers, not of a converter. */
const rounded = 1e-12;
/** [-] Longest interval over the shortest from which the samples are not even. */
const uneven = 1.1;

/** What the converter and the clock did to all of the record. */
function recordingWarnings(
  trace: Trace,
  { quantisation: step = 0, standardDeviation }: Noise,
  { shortest, longest, rateChanges }: AxisFaults,
  least: number,
): Warning[] {
  const warnings: Warning[] = [];
  if (step > least && step >= coarse * standardDeviation) {
    const message = `The readings move in steps of ${step.toPrecision(3)} ${trace.signalUnit}, ${(step / standardDeviation).toPrecision(2)} times their noise: smaller changes do not show, and heights are no better than a step.`;
    warnings.push({ code: 'quantisation', message });
  }
  const seconds = (minutes: number): string => (60 * minutes).toPrecision(3);
  if (longest > uneven * shortest) {
    const message = `The samples are from ${seconds(shortest)} to ${seconds(longest)} s apart, gaps left out: peaks were decided on an even grid read off between them; areas and heights are taken at the real times.`;
    warnings.push({ code: 'sampling-uneven', message });
  }
  for (const { at, before, after } of rateChanges) {
    const message = `The sampling interval changes from ${seconds(before)} to ${seconds(after)} s at ${at.toFixed(3)} min.`;
    warnings.push({ code: 'sampling-rate-change', message, at });
  }
  return warnings;
}
