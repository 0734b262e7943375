import { describe, expect, test } from 'vitest';
import { analyse, simulateTrace, type PeakRecipe } from '../../../src/index.js';

const sigma = 0.06;
const pair = (sign: 1 | -1, second = 60): PeakRecipe[] => [
  { shape: 'emg', retentionTime: 4, height: sign * 100, sigma, tau: 0.03 },
  { shape: 'emg', retentionTime: 4.22, height: sign * second, sigma, tau: 0.03 },
];
const record = (peaks: PeakRecipe[], white = 0.02) =>
  simulateTrace({ duration: 8, interval: 0.2, seed: 3, peaks, baseline: { offset: 2 }, noise: { white } });

describe.each([
  ['up', 1],
  ['down', -1],
] as const)('two fused peaks that point %s', (_, sign) => {
  const { trace, truth } = record(pair(sign));
  const { peaks } = analyse(trace);

  test('say that their shape was measured on their fitted curves', () => {
    expect(peaks.map((p) => p.measuredOn)).toEqual(['fitted curve', 'fitted curve']);
    for (const { warnings } of peaks) {
      expect(warnings.map((w) => w.code)).toContain('measured-on-curve');
      expect(warnings.map((w) => w.code)).not.toContain('width-absent');
    }
  });

  // The truth is that of each peak alone, found numerically from its shape by the simulation.
  test.each([0, 1])('have the widths, plates, tailing and asymmetry of the peak alone (%i)', (i) => {
    const [found, wanted] = [peaks[i]!, truth.peaks[i]!];
    const ratios = [
      found.widths.halfHeight! / wanted.widths.halfHeight,
      found.widths.tenPercent! / wanted.widths.tenPercent,
      found.widths.fivePercent! / wanted.widths.fivePercent,
      found.widths.tangent! / wanted.widths.tangent,
      found.plates.halfHeight! / wanted.plates.halfHeight!,
      found.tailingFactor! / wanted.tailingFactor,
      found.asymmetry! / wanted.asymmetry,
    ];
    for (const ratio of ratios) expect(Math.abs(ratio - 1)).toBeLessThan(0.015);
  });

  test('have the resolution of the two alone, by both definitions', () => {
    const [found, wanted] = [peaks[1]!.resolution!, truth.peaks[1]!.resolution!];
    expect(found.halfHeight! / wanted.halfHeight - 1).toBeCloseTo(0, 2);
    expect(found.tangent! / wanted.tangent - 1).toBeCloseTo(0, 2);
    expect(peaks[1]!.withinRun!.resolutionHalfHeight).toBeGreaterThan(0);
    expect(peaks[0]!.withinRun!.resolutionHalfHeight).toBeUndefined();
  });

  test('have an uncertainty of the time that covers what the neighbour draws the maximum off by', () => {
    peaks.forEach((p, i) => {
      expect(Math.abs(p.retentionTime - truth.peaks[i]!.retentionTime)).toBeLessThan(2 * p.withinRun!.retentionTime!);
    });
  });
});

test('without fits a covered flank has no width, a warning, and no uncertainty of what is absent', () => {
  const { peaks } = analyse(record(pair(1)).trace, { divider: 'drop line' });
  const [first] = peaks;
  expect(first!.measuredOn).toBeUndefined();
  expect(first!.widths.fivePercent).toBeUndefined();
  expect(first!.warnings.map((w) => w.code)).toContain('width-absent');
  expect(first!.tailingFactor).toBeUndefined();
  expect(first!.withinRun).not.toHaveProperty('tailingFactor');
  expect(first!.withinRun!.height).toBeGreaterThan(0);
});

test('peaks of a group that do not cover each other are measured on the trace', () => {
  const apart: PeakRecipe[] = [pair(1)[0]!, { ...pair(1)[1]!, retentionTime: 4.9 }];
  for (const p of analyse(record(apart).trace).peaks) {
    expect(p.measuredOn).toBeUndefined();
    expect(p.warnings.map((w) => w.code)).not.toContain('measured-on-curve');
  }
});

test('the parts of the uncertainty of an area add up in squares, and a peak alone has no division', () => {
  const single = analyse(record([pair(1)[0]!]).trace).peaks[0]!;
  expect(single.areaUncertaintyParts).not.toHaveProperty('division');
  for (const p of [single, ...analyse(record(pair(1)).trace).peaks]) {
    const { noise, baseline, division = 0, shape = 0 } = p.areaUncertaintyParts!;
    expect(p.areaUncertainty).toBeCloseTo(Math.hypot(noise, baseline, division, shape), 9);
  }
});

test('uncertainties grow with the noise in proportion while the shape is sure', () => {
  const [low, high] = [0.6, 1.2].map((white) => analyse(record([pair(1)[0]!], white).trace).peaks[0]!);
  for (const name of ['retentionTime', 'widthHalfHeight', 'tailingFactor', 'asymmetry'] as const) {
    const ratio = high!.withinRun![name]! / low!.withinRun![name]!;
    expect(ratio).toBeGreaterThan(1.6);
    expect(ratio).toBeLessThan(2.4);
  }
});

test('rounding that no noise stirs is a level that is off by the step over the root of twelve', () => {
  // JCGM 100:2008, F.2.2.1.
  const step = 0.5;
  const { trace } = simulateTrace({ duration: 8, interval: 0.2, seed: 3, peaks: [pair(1)[0]!], baseline: { offset: 2.1 }, noise: { white: 0.01 }, step }); // prettier-ignore
  const { peaks } = analyse(trace);
  const { start, end, areaUncertaintyParts } = peaks[0]!;
  expect(areaUncertaintyParts!.baseline).toBeGreaterThanOrEqual((60 * (end - start) * step) / Math.sqrt(12) - 1e-9);
});
