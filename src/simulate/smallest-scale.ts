/** [-] How much the peak is made larger and smaller, and how closely a limit is found. */
const largest = 1024;
const smallest = 1 / 16384;
const closeness = 1.05;

/** What the search came to: the factor, or why there is none. */
export type ScaleLimit = { readonly scale: number } | { readonly missing: 'holds everywhere' | 'never holds' };

/**
 * The smallest factor by which a peak can be multiplied so that `holds`, next to
 * the factor 1: doubled until it holds or halved until it does not, then halved in
 * its logarithm down to 5 %. What holds for a factor is taken to hold above it.
 */
export function smallestScale(holds: (scale: number) => boolean): ScaleLimit {
  let high = 1;
  let low = 1;
  if (holds(1)) {
    do {
      high = low;
      low /= 2;
      if (low < smallest) return { missing: 'holds everywhere' };
    } while (holds(low));
  } else {
    do {
      low = high;
      high *= 2;
      if (high > largest) return { missing: 'never holds' };
    } while (!holds(high));
  }
  while (high / low > closeness) {
    const middle = Math.sqrt(high * low);
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return { scale: high };
}
