import { exp, log } from '../numeric/index.js';
import type { Interval } from './block-means.js';
import { bridgePoints, type LevelFit } from './level-fit.js';

/**
 * Options of {@link estimateBaseline} with `kind: 'snip'`.
 *
 * @public
 */
export interface SnipOptions {
  /** Clipping of peaks by the means of points ever further, or ever less far, to both sides. */
  readonly kind: 'snip';
  /**
   * Stretches that have no say: they are bridged straight before anything is clipped.
   *
   * @defaultValue []
   */
  readonly avoid?: readonly Interval[] | undefined;
  /**
   * [min] Furthest distance to a side: about half the base of the widest peak. Automatic: a twentieth of the run.
   *
   * @defaultValue 'automatic'
   */
  readonly halfWidth?: number | 'automatic' | undefined;
  /**
   * Whether distances grow, as first published, or shrink, which leaves a smoother line.
   *
   * @defaultValue 'shrinking'
   */
  readonly distances?: 'growing' | 'shrinking' | undefined;
  /**
   * `true` clips log(log(sqrt(y + 1) + 1) + 1) of the signal, so that tall peaks do not outweigh low ones; a record that
   * falls below 0 is raised until it does not. The result then depends on the unit and the zero of the signal.
   *
   * @defaultValue false
   */
  readonly compress?: boolean | undefined;
}

export const snipDefaults = {
  kind: 'snip',
  avoid: [],
  halfWidth: 'automatic',
  distances: 'shrinking',
  compress: false,
} as const;

/**
 * Statistics-sensitive nonlinear iterative peak clipping: for every distance p
 * from 1 to m, or from m to 1, each point is lowered to the mean of the points
 * p before and p after it where that is lower. The first and last p points stay.
 *
 * @param y - N points, equally spaced.
 * @param given - N weights; points of weight 0 are bridged first.
 * @param furthest - [points] m.
 * @param shrinking - Whether p falls from m to 1.
 * @param compress - Whether the points are clipped as log(log(sqrt(y + 1) + 1) + 1); points below 0 are raised first.
 *
 * @see C. G. Ryan, E. Clayton, W. L. Griffin, S. H. Sie, D. R. Cousens, Nucl. Instrum. Methods B 34 (1988) 396-402;
 *   M. Morháč, V. Matoušek, Appl. Spectrosc. 62 (2008) 91-106, for shrinking distances (both from memory)
 */
export function snip(
  y: Float64Array,
  given: Float64Array,
  furthest: number,
  shrinking: boolean,
  compress: boolean,
): LevelFit {
  const n = y.length;
  let from: Float64Array = bridgePoints(y, given);
  const lowest = from.reduce((a, b) => Math.min(a, b), 0);
  if (compress) from = from.map((v) => log(log(Math.sqrt(v - lowest + 1) + 1) + 1));
  let to: Float64Array = from.slice();
  const most = Math.min(furthest, (n - 1) >> 1);
  for (let k = 1; k <= most; k++) {
    const p = shrinking ? most + 1 - k : k;
    for (let i = p; i < n - p; i++) to[i] = Math.min(from[i]!, (from[i - p]! + from[i + p]!) / 2);
    [from, to] = [to, from];
    to.set(from);
  }
  if (compress) {
    from = from.map((v) => {
      const root = exp(exp(v) - 1) - 1;
      return root * root - 1 + lowest;
    });
  }
  return { level: from, rounds: most, settled: true };
}
