import { describe, expect, test } from 'vitest';
import { analyse, createTrace, simulateTrace, type DisturbanceRecipe } from '../../../src/index.js';

const recipe = (disturbances: readonly DisturbanceRecipe[], seed = 1) => ({
  duration: 10,
  interval: 0.2,
  noise: { white: 0.05 },
  disturbances,
  peaks: [
    { shape: 'gaussian', retentionTime: 4, height: 50, sigma: 0.05 },
    { shape: 'gaussian', retentionTime: 6, height: 80, sigma: 0.06 },
  ] as const,
  seed,
});
const dip = (height: number, second?: { delay: number; height: number; sigma: number }): DisturbanceRecipe => ({
  kind: 'void',
  time: 1.2,
  height,
  sigma: 0.03,
  ...(second && { second }),
});

describe('The hold-up time', () => {
  test.each([
    ['a dip', dip(-8), 'A dip before every peak'],
    ['a dip and a rise', dip(-8, { delay: 0.09, height: 6, sigma: 0.03 }), 'A dip and rise before every peak'],
    ['a rise and a dip', dip(6, { delay: 0.09, height: -8, sigma: 0.03 }), 'A rise and dip before every peak'],
  ])('is offered from %s, with evidence, uncertainty and what to confirm', (_, disturbance, evidence) => {
    for (let seed = 1; seed <= 10; seed++) {
      const found = analyse(simulateTrace(recipe([disturbance], seed)).trace).holdUpTime!;
      expect(Math.abs(found.value - 1.2)).toBeLessThan(0.02);
      expect(Math.abs(found.value - 1.2)).toBeLessThan(2 * found.uncertainty);
      expect(found.from).toBeLessThan(found.value);
      expect(found.to).toBeGreaterThanOrEqual(found.value);
      expect(found.uncertainty).toBeLessThan(0.12);
      expect(found.evidence).toContain(evidence);
      expect(found.text).toContain('Confirm');
    }
  });

  test('is absent without an early disturbance, and no measure of a peak is made of it', () => {
    expect(analyse(simulateTrace(recipe([])).trace).holdUpTime).toBeUndefined();
    const { peaks } = analyse(simulateTrace(recipe([dip(-8)])).trace);
    expect(Object.keys(peaks[0]!).filter((key) => /retentionFactor|separationFactor/.test(key))).toStrictEqual([]);
  });

  test('is offered still when the early disturbance is taken as peaks', () => {
    const { trace } = simulateTrace(recipe([dip(-8)]));
    expect(analyse(trace, { disturbances: 'keep as peaks' }).holdUpTime).toStrictEqual(analyse(trace).holdUpTime);
  });

  test('says when time does not count from the injection', () => {
    const { time, signal } = simulateTrace(recipe([dip(-8)])).trace;
    const text = (injectedAt?: number) =>
      analyse(createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU', injectedAt })).holdUpTime!.text;
    expect(text()).toContain('from the start of the record');
    expect(text(0)).not.toContain('from the start of the record');
  });
});
