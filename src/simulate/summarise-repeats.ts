import { defined } from '../core/index.js';
import type { PeakRecovery, RecoveredPeak } from './recovery.js';

/** Mean and scatter of the repeats of one peak. */
export interface RepeatSummary extends Pick<
  PeakRecovery,
  'foundShare' | 'recovery' | 'bias' | 'biasUncertainty' | 'repeatability'
> {
  /** [-] Root mean square of recovery less 1. */
  readonly error?: number;
}

/** What the repeats of one peak come to; those in which it was not found count for `foundShare` alone. */
export function summariseRepeats(repeats: readonly RecoveredPeak[]): RepeatSummary {
  const values = repeats.flatMap(({ recovery }) => recovery ?? []);
  const n = values.length;
  const foundShare = n / repeats.length;
  if (n === 0) return { foundShare };
  const mean = values.reduce((sum, v) => sum + v, 0) / n;
  const squares = values.reduce((sum, v) => sum + (v - mean) * (v - mean), 0);
  const bias = mean - 1;
  const repeatability = n > 1 ? Math.sqrt(squares / (n - 1)) : undefined;
  return defined({
    foundShare,
    recovery: mean,
    bias,
    biasUncertainty: repeatability && repeatability / Math.sqrt(n),
    repeatability,
    error: Math.sqrt(squares / n + bias * bias),
  });
}
