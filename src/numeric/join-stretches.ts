/** Stretches in order, none of which overlaps or touches another. */
export interface JoinedStretches {
  /** Starts. */
  readonly from: readonly number[];
  /** Ends, one for each start. */
  readonly to: readonly number[];
}

/** Puts stretches in order and joins those that overlap or touch. */
export function joinStretches(stretches: readonly { readonly from: number; readonly to: number }[]): JoinedStretches {
  const starts: number[] = [];
  const ends: number[] = [];
  for (const { from, to } of [...stretches].sort((p, q) => p.from - q.from)) {
    const last = ends.length - 1;
    if (from <= ends[last]!) ends[last] = Math.max(ends[last]!, to);
    else {
      starts.push(from);
      ends.push(to);
    }
  }
  return { from: starts, to: ends };
}
