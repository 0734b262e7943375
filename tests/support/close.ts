import { expect } from 'vitest';

/** Fails unless every value lies within `tolerance` times the largest expected magnitude. */
export function expectClose(received: ArrayLike<number>, expected: ArrayLike<number>, tolerance: number): void {
  expect(received.length).toBe(expected.length);
  const scale = Math.max(...Array.from(expected, Math.abs), Number.MIN_VALUE);
  for (let i = 0; i < expected.length; i++) {
    const error = Math.abs(received[i]! - expected[i]!) / scale;
    expect(error, `sample ${i}: received ${received[i]!}, expected ${expected[i]!}`).toBeLessThanOrEqual(tolerance);
  }
}
