import type { Warning } from '../core/index.js';
import type { Pyramid, ScaleNoise } from '../signal/index.js';
import type { Baseline } from './baseline.js';
import type { BlockMeans } from './block-means.js';
import { knots } from './fit-baseline.js';
import type { LevelEstimator } from './level-fit.js';

/** A record, ready to lay a baseline through. */
export interface Seen {
  readonly pyramid: Pyramid;
  readonly noise: ScaleNoise;
  readonly blocks: BlockMeans;
  /** Whether the samples were not even, and values between them were taken. */
  readonly resampled: boolean;
}

export const onResampled: Warning = {
  code: 'baseline-on-resampled',
  message: 'The samples are not even: the baseline was laid on values between them.',
};

/** The level an estimator of the family gives for the means of a record, as the knots of a baseline. */
export function layLevel(kind: string, { pyramid, blocks, resampled }: Seen, estimate: LevelEstimator): Baseline {
  // Off the straight line of the blocks for the digits; a block that is avoided lies on it and has no say.
  const { level, inverse, scatter = 0, rounds, settled } = estimate(blocks.y, blocks.w);
  const joined = blocks.w.map(() => 1);
  const { uncertainty, ...line } = knots(pyramid, blocks, level, inverse ?? level, scatter, joined, []);
  const warnings: Warning[] = resampled && kind !== 'arpls' ? [onResampled] : [];
  if (!settled) {
    const name = kind === 'arpls' ? 'arPLS baseline' : `baseline of kind ${kind}`;
    const message =
      kind === 'polynomial'
        ? `The ${name} still moves after ${rounds} rounds.`
        : `The weights of the ${name} still change after ${rounds} rounds; the line may still move a little.`;
    warnings.push({ code: `${kind}-not-settled`, message });
  }
  return {
    ...line,
    kind,
    ...(inverse === undefined ? {} : { uncertainty: uncertainty! }),
    ...(warnings.length > 0 ? { warnings } : {}),
  };
}
