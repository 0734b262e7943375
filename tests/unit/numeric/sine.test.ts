import { describe, expect, test } from 'vitest';
import { sineOfTurns } from '../../../src/numeric/sine.js';

describe('sineOfTurns', () => {
  test('is exact at quarters of a turn', () => {
    expect([0, 0.25, 0.5, 0.75, 1, -0.25, 7.25, 1e6].map(sineOfTurns)).toEqual([0, 1, 0, -1, 0, -1, 1, 0]);
  });

  test('gives the sine of thirty degrees and of one radian', () => {
    expect(sineOfTurns(1 / 12)).toBeCloseTo(0.5, 15);
    // Abramowitz and Stegun, Handbook of Mathematical Functions, table 4.6, from memory: sin 1.
    expect(sineOfTurns(1 / (2 * Math.PI))).toBeCloseTo(0.8414709848078965, 15);
  });

  test('agrees with the sine of the engine to 2.3e-16 over a turn', () => {
    let worst = 0;
    for (let i = -2000; i <= 2000; i++) {
      const turns = i / 2001;
      // The engine is given the angle folded to a quarter: its own 2 pi t is rounded.
      const part = turns - Math.round(turns);
      const folded = Math.abs(part) > 0.25 ? Math.sign(part) * 0.5 - part : part;
      worst = Math.max(worst, Math.abs(sineOfTurns(turns) - Math.sin(2 * Math.PI * folded)));
    }
    expect(worst).toBeLessThan(2.3e-16);
  });
});
