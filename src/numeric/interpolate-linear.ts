/**
 * Values at the targets on straight lines between the points; at a point
 * exactly its value.
 *
 * @param x - N at least 2 positions, strictly increasing.
 * @param y - N finite values.
 * @param targets - Positions, not decreasing, from `x[0]` to `x[N - 1]`.
 */
export function interpolateLinear(x: Float64Array, y: Float64Array, targets: Float64Array): Float64Array {
  let left = 0;
  return targets.map((target) => {
    while (left < x.length - 2 && x[left + 1]! < target) left++;
    const part = (target - x[left]!) / (x[left + 1]! - x[left]!);
    return y[left]! * (1 - part) + y[left + 1]! * part;
  });
}
