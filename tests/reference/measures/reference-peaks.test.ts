import { describe, expect, test } from 'vitest';
import { createTrace, measurePeak, peakToValley, type PeakMeasures } from '../../../src/index.js';
import { locateApex } from '../../../src/numeric/index.js';
import { emg, emgTable, sample, zero } from './reference-peaks.js';

const sigma = 0.05;

/** Apex and measures of an EMG of area 1, `perSigma` samples per standard deviation. */
function measured(ratio: number, perSigma: number): { apex: { time: number; height: number }; measures: PeakMeasures } {
  const step = sigma / perSigma;
  const record = sample((t) => emg(t, 5, sigma, ratio * sigma), 4.5 + 0.3 * step, 7, step);
  const trace = createTrace({ ...record, timeUnit: 'min', signalUnit: 'mAU' });
  const end = 5.6 + 0.4 * ratio;
  const apex = locateApex(record.time, record.signal, { approx: 5.02, start: 4.55, end, sign: 1 });
  const measures = measurePeak(
    trace,
    { retentionTime: apex.time, height: apex.height, start: 4.55, end, direction: 'up' },
    zero,
  );
  return { apex, measures };
}

describe('a noise-free reference peak is measured as the closed form has it', () => {
  const cases = emgTable.flatMap((row) => [10, 40, 1000].map((perSigma) => ({ ...row, perSigma })));
  test.each(cases)('tau = $ratio sigma, $perSigma samples per sigma', (row) => {
    const { apex, measures } = measured(row.ratio, row.perSigma);
    // The tolerances are the biases that the docstrings state for the spans of the local fits.
    expect(Math.abs(apex.time - row.mode) / sigma).toBeLessThan(0.01);
    expect(Math.abs(apex.height / row.height - 1)).toBeLessThan(0.0005);
    const off = (received: number | undefined, expected: number): number => Math.abs(received! / expected - 1);
    expect(off(measures.widths.halfHeight, row.half)).toBeLessThan(0.0015);
    expect(off(measures.widths.tenPercent, row.tenth)).toBeLessThan(0.0005);
    expect(off(measures.widths.fivePercent, row.twentieth)).toBeLessThan(0.0006);
    expect(off(measures.widths.tangent, row.tangent)).toBeLessThan(row.ratio > 1 ? 0.008 : 0.0025);
    expect(off(measures.asymmetry, row.asymmetry)).toBeLessThan(0.005);
    expect(off(measures.tailingFactor, row.tailing)).toBeLessThan(0.003);
    expect(off(measures.plates.halfHeight, row.nHalf)).toBeLessThan(0.003);
    expect(off(measures.plates.tangent, row.nTangent)).toBeLessThan(row.ratio > 1 ? 0.016 : 0.005);
    if (row.nFoleyDorsey !== undefined) expect(off(measures.plates.foleyDorsey, row.nFoleyDorsey)).toBeLessThan(0.004);
    // The limits cut what lies beyond 8 tau of the tail.
    expect(off(measures.plates.moments, row.nMoments)).toBeLessThan(0.01);
  });
});

// Gaussian at 5.0037 min, sigma 0.05 min, height 100, on multiples of the step: too few samples for local fits, so that
// the apex is that of the parabola through three and the crossings lie on straight lines between two.
test.each([
  [0.02, 0.11813551, 0.21733806, 0.24704264],
  [0.05, 0.12237619, 0.22754354, 0.26825878],
])('with samples %d min apart widths are those of straight lines between samples', (step, half, tenth, twentieth) => {
  const record = sample((t) => 100 * Math.exp(-0.5 * ((t - 5.0037) / 0.05) ** 2), 4.5, 5.5, step);
  const trace = createTrace({ ...record, timeUnit: 'min', signalUnit: 'mAU' });
  const apex = locateApex(record.time, record.signal, { approx: 5, start: 4.6, end: 5.4, sign: 1 });
  expect(apex.method).toBe('three points');
  const { widths } = measurePeak(
    trace,
    { retentionTime: apex.time, height: apex.height, start: 4.6, end: 5.4, direction: 'up' },
    zero,
  );
  expect(widths.halfHeight).toBeCloseTo(half, 7);
  expect(widths.tenPercent).toBeCloseTo(tenth, 7);
  expect(widths.fivePercent).toBeCloseTo(twentieth, 7);
});

/** Peak-to-valley of two peaks, each given as a function, apexes found on the sum. */
function valleyOf(f: (t: number) => number, first: number, second: number): number | undefined {
  const record = sample(f, -6, second + 12, 0.02);
  const trace = createTrace({ ...record, timeUnit: 'min', signalUnit: 'mAU' });
  const peaks = [first, second].map((approx) => {
    const apex = locateApex(record.time, record.signal, {
      approx,
      start: approx - 1.2,
      end: approx + 1.2,
      sign: 1,
      sigma: 1,
    });
    return { retentionTime: apex.time, height: apex.height, direction: 'up', widths: { halfHeight: 2.3548 } } as const;
  });
  return peakToValley(trace, peaks[0]!, peaks[1]!, zero).value;
}

describe('peak-to-valley ratio', () => {
  // Two Gaussians of equal width, areas 1 and r, resolution Rs: evaluated in double precision from the closed form.
  test.each([
    [1, 0.8, 1.809415],
    [1, 1, 3.695771],
    [1, 1.5, 45.008566],
    [0.5, 1.25, 8.139491],
    [0.2, 1, 1.84451],
    [0.2, 1.5, 20.959999],
    [0.1, 1.25, 4.083813],
    [0.05, 1, 1.216815],
    [0.02, 1.25, 2.321339],
    [0.01, 1.5, 6.27287],
  ])('of two Gaussians, areas 1 and %d, resolution %d', (r, rs, expected) => {
    const gauss = (t: number): number => Math.exp(-0.5 * t * t);
    const value = valleyOf((t) => gauss(t) + r * gauss(t - 4 * rs), 0, 4 * rs);
    // The local fit of the valley over 0.4 sigma is right to 0.1 % at resolutions up to 1.5, that of the apex to 0.05 %.
    expect(Math.abs(value! / expected - 1)).toBeLessThan(0.002);
  });

  // Two EMGs of sigma 1 and tau 1, centres 8 apart.
  test.each([
    [1, 1, 28.777179],
    [1, 0.1, 5.511362],
    [0.1, 1, 16.648307],
    [1, 0.01, 1.358055],
  ])('of two tailing peaks, areas %d and %d', (first, second, expected) => {
    const value = valleyOf((t) => first * emg(t, 0, 1, 1) + second * emg(t, 8, 1, 1), 0.7, 8.7);
    expect(Math.abs(value! / expected - 1)).toBeLessThan(0.003);
  });

  test.each([
    [0.1, 0.8],
    [0.01, 1],
  ])('is absent when areas 1 and %d at resolution %d have no valley', (r, rs) => {
    const gauss = (t: number): number => Math.exp(-0.5 * t * t);
    expect(valleyOf((t) => gauss(t) + r * gauss(t - 4 * rs), 0, 4 * rs)).toBeUndefined();
  });
});
