import { describe, expect, test } from 'vitest';
import { analyse, areaBetween, simulateTrace, type DisturbanceRecipe, type Trace } from '../../../src/index.js';

const record = (disturbances: readonly DisturbanceRecipe[], seed = 1): Trace =>
  simulateTrace({
    duration: 10,
    interval: 0.2,
    baseline: { offset: 2 },
    noise: { white: 0.05 },
    disturbances,
    peaks: [
      { shape: 'gaussian', retentionTime: 3, height: 60, sigma: 0.05 },
      { shape: 'gaussian', retentionTime: 4, height: 50, sigma: 0.05 },
      { shape: 'gaussian', retentionTime: 6, height: 80, sigma: 0.06 },
    ],
    seed,
  }).trace;
const swing: DisturbanceRecipe = {
  kind: 'void',
  time: 1,
  height: -15,
  sigma: 0.03,
  second: { delay: 0.12, height: 12, sigma: 0.03 },
};
/** Every kind that a peak could be mistaken for, with the area that was put in [mAU s]. */
const kinds: readonly [kind: string, recipe: DisturbanceRecipe, area: number][] = [
  ['spike', { kind: 'spike', time: 8, height: 40 }, 40 * 0.2],
  ['spike', { kind: 'spike', time: 8, height: -40, length: 0.4 }, -40 * 0.4],
  ['spike', { kind: 'void', time: 8, height: 40, sigma: 0.012 }, 40 * 0.012 * 60 * Math.sqrt(2 * Math.PI)],
  ['bubble', { kind: 'bubble', time: 8, height: 40, stay: 0.01, decay: 0.05 }, 40 * 0.06 * 60],
  ['early disturbance', swing, -15 * 0.03 * 60 * Math.sqrt(2 * Math.PI)],
];
const divider = 'drop line';

describe.each(kinds)('A %s', (kind, recipe, area) => {
  const trace = record([recipe]);
  const before = analyse(trace, { divider });
  const place = before.disturbances.find((each) => each.kind === kind)!;

  test('keeps its area, with evidence and what can be done', () => {
    expect(before.peaks).toHaveLength(3);
    expect(Math.abs(place.area! / area - 1)).toBeLessThan(0.05);
    expect(place.evidence.length).toBeGreaterThan(20);
    expect(place.text).toContain(`takeAsPeak: [${place.at.toFixed(4)}]`);
  });

  test('is a peak in the one step that its text names, with that area, and moves nothing else', () => {
    const time = Number(/takeAsPeak: \[(.*)\]/.exec(place.text)![1]);
    const after = analyse(trace, { divider, takeAsPeak: [time] });
    expect(after.peaks).toHaveLength(4);
    const promoted = after.peaks.find(({ start, end }) => time > start && time < end)!;
    // The line below a spike runs between the readings beside it, the baseline below a peak through its own.
    expect(Math.abs(promoted.area / place.area! - 1)).toBeLessThan(kind === 'spike' ? 0.01 : 1e-12);
    expect(promoted.direction).toBe(area > 0 ? 'up' : 'down');
    expect(after.disturbances).toHaveLength(before.disturbances.length - 1);
    for (const kept of before.peaks) {
      expect(after.peaks.find(({ id }) => id === kept.id)!.area).toBe(kept.area);
    }
  });

  test('is a peak with all others under "keep as peaks"', () => {
    const { peaks, disturbances } = analyse(trace, { divider, disturbances: 'keep as peaks' });
    expect(disturbances).toStrictEqual([]);
    expect(peaks).toHaveLength(3 + before.disturbances.length);
  });

  test('is called so wherever it comes first: moved by minutes with its run it stays what it is', () => {
    const later = analyse({ ...trace, time: trace.time.map((t) => t + 7) }, { divider });
    expect(later.disturbances.map((each) => each.kind)).toStrictEqual(before.disturbances.map((each) => each.kind));
  });
});

describe('A spike on a peak', () => {
  const height = 40;
  const [plain, spiky] = [record([]), record([{ kind: 'spike', time: 6.05, height }])];

  test('leaves time, height and width of the peak as they were', () => {
    const [a, b] = [analyse(plain).peaks[2]!, analyse(spiky).peaks[2]!];
    expect(Math.abs(b.retentionTime - a.retentionTime)).toBeLessThan(0.0005);
    expect(Math.abs(b.height / a.height - 1)).toBeLessThan(0.002);
    expect(Math.abs(b.widths.halfHeight! / a.widths.halfHeight! - 1)).toBeLessThan(0.005);
  });

  test('keeps what the line below it takes off: with the peak, all of the raw area', () => {
    const { peaks, disturbances, baseline } = analyse(spiky, { divider });
    const { area: own } = disturbances.find(({ kind }) => kind === 'spike')!;
    const { start, end, area } = peaks[2]!;
    expect(area + own!).toBeCloseTo(areaBetween(spiky, baseline, start, end), 9);
    expect(Math.abs(own! / (height * 0.2) - 1)).toBeLessThan(0.05);
  });

  test('taken as a peak, shares the raw area with the peak it sits on', () => {
    const { at } = analyse(spiky, { divider }).disturbances.find(({ kind }) => kind === 'spike')!;
    for (const way of ['drop line', 'fit'] as const) {
      const { peaks, regions, baseline } = analyse(spiky, { divider: way, takeAsPeak: [at] });
      expect(peaks).toHaveLength(4);
      const { start, end, area } = regions[2]!;
      expect(area).toBeCloseTo(peaks[2]!.area + peaks[3]!.area, 9);
      if (way === 'drop line') expect(area).toBeCloseTo(areaBetween(spiky, baseline, start, end), 9);
    }
  });
});

test('A step, a gap and saturation have nothing that could be a peak, and say what they mean instead', () => {
  const { disturbances } = analyse(record([{ kind: 'step', time: 8, height: 20 }]));
  const step = disturbances.find(({ kind }) => kind === 'step')!;
  expect(step.area).toBeUndefined();
  expect(step.text).toContain('no area');
  expect(step.height! / 20).toBeCloseTo(1, 1);
});
