/**
 * The k-th smallest of `values[from..to)`, k counted from 0; reorders that
 * stretch in place. Linear on average; no pivot pattern of real data is
 * quadratic because the middle of three is taken.
 */
export function selectInPlace(values: Float64Array, from: number, to: number, k: number): number {
  let low = from;
  let high = to - 1;
  const target = from + k;
  while (high > low) {
    const middle = (low + high) >> 1;
    const a = values[low]!;
    const b = values[middle]!;
    const c = values[high]!;
    const pivot = a < b ? (b < c ? b : a < c ? c : a) : a < c ? a : b < c ? c : b;
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i <= j) {
        const swap = values[i]!;
        values[i] = values[j]!;
        values[j] = swap;
        i++;
        j--;
      }
    }
    if (target <= j) high = j;
    else if (target >= i) low = i;
    else break;
  }
  return values[target]!;
}

/**
 * Quantile of `values[0..count)` by the nearest rank, reordering it in place;
 * the median of an even count is its upper middle value.
 */
export function quantileInPlace(values: Float64Array, count: number, fraction: number): number {
  const k = Math.min(count - 1, Math.max(0, Math.floor(fraction * count)));
  return selectInPlace(values, 0, count, k);
}
