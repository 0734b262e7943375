/** A stretch in which a signal would go above the ceiling. */
export interface Plateau {
  /** [min] First and last sample above. */
  readonly from: number;
  readonly to: number;
  /** [signal unit s] Area that is lost above the ceiling. */
  readonly excess: number;
}

/** Where a noise-free signal is cut off by a ceiling; areas by trapezia over the samples. */
export function findPlateaus(time: Float64Array, clean: Float64Array, ceiling: number): Plateau[] {
  const plateaus: Plateau[] = [];
  const last = time.length - 1;
  for (let i = 0; i <= last; i++) {
    if (!(clean[i]! > ceiling)) continue;
    const from = time[i]!;
    let excess = 0;
    for (; i <= last && clean[i]! > ceiling; i++) {
      const width = (time[Math.min(i + 1, last)]! - time[Math.max(i - 1, 0)]!) / 2;
      excess += (clean[i]! - ceiling) * width * 60;
    }
    plateaus.push({ from, to: time[i - 1]!, excess });
  }
  return plateaus;
}
