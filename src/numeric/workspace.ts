/**
 * Scratch arrays that grow and are used again, one set per caller, so that a
 * batch of runs allocates once. What a slot holds is undefined when it is taken.
 */
export interface Workspace {
  /** An array of `length` values that stays valid until the same slot is taken again. */
  readonly take: (slot: string, length: number) => Float64Array;
}

/** A fresh, empty workspace. */
export function createWorkspace(): Workspace {
  const slots = new Map<string, Float64Array>();
  return {
    take: (slot, length) => {
      let buffer = slots.get(slot);
      if (buffer === undefined || buffer.length < length) {
        // One that had to grow once is likely to grow again.
        buffer = new Float64Array(buffer === undefined ? length : length + (length >> 2));
        slots.set(slot, buffer);
      }
      return buffer.subarray(0, length);
    },
  };
}
