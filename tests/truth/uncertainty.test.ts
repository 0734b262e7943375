import { describe, expect, test } from 'vitest';
import { judgeUncertainty, uncertaintyFamilies, type Worth } from '../../bench/accuracy/uncertainty.js';

/**
 * JCGM 100:2008: a standard uncertainty is the standard deviation of the error. Here the errors are known: in each repeat
 * noise, drift, wander and sampling phase are drawn anew, with fixed seeds, and what is stated is held against them.
 */
const repeats = 100;
/** Three standard errors of a ratio of root mean squares over as many repeats, 3 / sqrt(2 * 100). */
const scatter = 3 / Math.sqrt(2 * repeats);
/** Three standard errors of a share of 95 % of as many. */
const shareScatter = 3 * Math.sqrt((0.95 * 0.05) / repeats);

/** Where the ratio is to lie; 1 is wanted. In white noise it comes to 1.2 to 1.4, for shapes that a real peak might have and these have not. */
const within: Readonly<Record<string, readonly [low: number, high: number]>> = {
  area: [0.95, 1.2],
  height: [0.95, 1.15],
  'retention time': [0.9, 1.12],
  plates: [0.9, 1.1],
  tailing: [0.95, 1.1],
  asymmetry: [0.92, 1.1],
};
/** Noise that is slow at the width of the peak is hard to tell from the peak and its baseline. */
const slow: Readonly<Record<string, readonly [low: number, high: number]>> = {
  area: [1, 1.5],
  height: [0.8, 1.15],
  'retention time': [0.95, 1.2],
  plates: [0.85, 1.2],
  tailing: [0.85, 1.3],
  asymmetry: [0.9, 1.3],
};
const isSlow = (name: string): boolean => name.startsWith('wander') || name.startsWith('correlated');

const named = (worths: readonly Worth[], quantity: string): Worth => {
  const worth = worths.find((w) => w.quantity === quantity);
  if (worth === undefined) throw new Error(`${quantity} has no stated uncertainty`);
  return worth;
};

describe.each(uncertaintyFamilies.filter(({ divided }) => !divided))('$name', (family) => {
  const worths = judgeUncertainty(family, repeats);
  const bands = isSlow(family.name) ? slow : within;

  test.each(Object.keys(within))('%s: what is stated is the error that repeats show', (quantity) => {
    const { count, ratio } = named(worths, quantity);
    const [low, high] = bands[quantity]!;
    expect(count).toBe(repeats);
    expect(ratio).toBeGreaterThan(low * (1 - scatter));
    expect(ratio).toBeLessThan(high * (1 + scatter));
  });

  test.each(Object.keys(within))('%s: 95 %% intervals hold the truth', (quantity) => {
    // In 93 of 100 cases over 2000 repeats; under wander in 86.
    const least = isSlow(family.name) ? 0.86 : 0.93;
    expect(named(worths, quantity).coverage).toBeGreaterThan(least - shareScatter);
  });

  test('there is nothing to be resolved from, and no uncertainty of a resolution', () => {
    expect(worths.map((w) => w.quantity)).not.toContain('resolution');
  });
});

describe.each(uncertaintyFamilies.filter(({ divided }) => divided))('$name', (family) => {
  const worths = judgeUncertainty(family, repeats);

  test.each(['area', 'height', 'retention time', 'plates', 'tailing', 'asymmetry', 'resolution'])(
    '%s of peaks that a fit divides: 95 %% intervals hold the truth',
    (quantity) => {
      const { count, coverage } = named(worths, quantity);
      // Both peaks of every pair, one resolution between them; a rider may rarely be missed.
      expect(count).toBeGreaterThan(0.95 * (quantity === 'resolution' ? 1 : 2) * repeats);
      // 88 of 100 are asked for, and what a hundred pairs scatter by.
      expect(coverage).toBeGreaterThan(0.88 - 3 * Math.sqrt((0.88 * 0.12) / repeats));
    },
  );
});
