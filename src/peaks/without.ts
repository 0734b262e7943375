import type { Interval } from '../baseline/index.js';

/** Stretches without the parts that others cover. */
export function without(stretches: readonly Interval[], holes: readonly Interval[]): Interval[] {
  let result = [...stretches];
  for (const hole of holes) {
    result = result.flatMap(({ from, to }) =>
      hole.to <= from || hole.from >= to
        ? [{ from, to }]
        : [
            { from, to: hole.from },
            { from: hole.to, to },
          ].filter((i) => i.to > i.from),
    );
  }
  return result;
}
