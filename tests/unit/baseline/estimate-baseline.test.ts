import { describe, expect, test } from 'vitest';
import {
  createTrace,
  estimateBaseline,
  simulateTrace,
  type Baseline,
  type BaselineOptions,
  type Trace,
} from '../../../src/index.js';
import { baselineAt } from '../../../src/baseline/index.js';
import { thrownBy } from '../../support/contracts.js';
import { repeatableNormals, traceAt, traceOf } from '../../support/traces.js';

const gauss = (t: number, at: number, sigma: number) => Math.exp((-0.5 * (t - at) * (t - at)) / (sigma * sigma));

/** Twenty minutes, 5 readings a second, of a level with peaks and white noise of 0.02. */
function run(level: (t: number) => number, peaks: (t: number) => number, noise = 0.02): Trace {
  const normal = repeatableNormals(11);
  const time = Float64Array.from({ length: 6144 }, (_, i) => i / 300);
  return traceAt(time, (i) => level(time[i]!) + peaks(time[i]!) + noise * normal());
}

/** Largest distance from the truth over the run. */
function worst(baseline: Baseline, level: (t: number) => number, from = 0, to = 20.47): number {
  let most = 0;
  for (let t = from; t <= to; t += 0.01) most = Math.max(most, Math.abs(baselineAt(baseline, t) - level(t)));
  return most;
}

const narrow = [2, 4.5, 7, 9, 12, 14, 17];
const narrowPeaks = (t: number) => narrow.reduce((sum, at, k) => sum + 10 ** (k % 3) * gauss(t, at, 0.06), 0);
const aroundNarrow = narrow.map((at) => ({ from: at - 0.3512, to: at + 0.3512 }));
const kinds: readonly (readonly [string, BaselineOptions])[] = [
  ['knots', { avoid: aroundNarrow }],
  ['arpls', { kind: 'arpls' }],
  ['arpls', { kind: 'arpls', avoid: aroundNarrow }],
];

describe.each(kinds)('The baseline of kind %s', (kind, options) => {
  const drifting = (t: number) => 5 + 0.2 * t;
  const trace = run(drifting, narrowPeaks);
  const baseline = estimateBaseline(trace, options);

  test('follows a drift under narrow peaks within a noise', () => {
    expect(baseline.kind).toBe(kind);
    expect(worst(baseline, drifting)).toBeLessThan(0.02);
  });

  test('follows a broad wave of the detector', () => {
    const wave = (t: number) => 5 + 0.8 * Math.sin(t / 3);
    // Knots: the tension that keeps the line straight below what is avoided also pulls at the slope of a wave of 0.8.
    const tolerance = kind === 'knots' ? 0.2 : 0.05;
    expect(worst(estimateBaseline(run(wave, narrowPeaks), options), wave)).toBeLessThan(tolerance);
  });

  test('has increasing knots over the whole record with finite levels and uncertainties above 0', () => {
    const { time, value, uncertainty } = baseline;
    expect(time[0]).toBeLessThanOrEqual(0);
    expect(time.at(-1)).toBeGreaterThanOrEqual(trace.time.at(-1)!);
    expect(time.every((t, i) => i === 0 || t > time[i - 1]!)).toBe(true);
    expect(value.every(Number.isFinite)).toBe(true);
    expect(uncertainty!.every((u) => u > 0 && u < 0.05)).toBe(true);
    expect(value).toHaveLength(time.length);
    expect(uncertainty).toHaveLength(time.length);
  });

  test('leaves its input alone and gives the same bits twice', () => {
    const before = structuredClone({ trace, options });
    expect(estimateBaseline(trace, options)).toStrictEqual(baseline);
    expect({ trace, options }).toStrictEqual(before);
  });

  const changed = (of: (y: number, t: number) => number) =>
    estimateBaseline({ ...trace, signal: trace.signal.map((y, i) => of(y, trace.time[i]!)) }, options);
  const span = 100;

  test('scales with the signal', () => {
    const { value, uncertainty } = changed((y) => 1000 * y);
    value.forEach((v, i) => expect(Math.abs(v / 1000 - baseline.value[i]!)).toBeLessThan(1e-9 * span));
    uncertainty!.forEach((u, i) => expect(u / 1000 / baseline.uncertainty![i]!).toBeCloseTo(1, 6));
  });

  test('shifts with an added level and an added straight line', () => {
    const { value, time } = changed((y, t) => y + 30 - 0.7 * t);
    value.forEach((v, i) => expect(Math.abs(v - (30 - 0.7 * time[i]!) - baseline.value[i]!)).toBeLessThan(1e-9 * span));
  });

  test('is the same a while later, later', () => {
    const later = createTrace({
      time: trace.time.map((t) => t + 32),
      signal: trace.signal,
      timeUnit: 'min',
      signalUnit: 'mAU',
    });
    const avoid = options.avoid?.map(({ from, to }) => ({ from: from + 32, to: to + 32 })) ?? [];
    const { time, value } = estimateBaseline(later, { ...options, avoid });
    time.forEach((t, i) => expect(t - 32).toBeCloseTo(baseline.time[i]!, 9));
    value.forEach((v, i) => expect(Math.abs(v - baseline.value[i]!)).toBeLessThan(1e-9 * span));
  });

  test('holds on jittered times, in two sampling rates and across a gap', () => {
    const normal = repeatableNormals(5);
    const axes = [
      (i: number) => (i + 0.4 * Math.sin(7 * i)) / 300,
      (i: number) => (i < 3000 ? i : 3000 + (i - 3000) * 2) / 450,
      (i: number) => (i < 1600 ? i : i + 150) / 300,
    ];
    for (const at of axes) {
      const time = Float64Array.from({ length: 6000 }, (_, i) => at(i));
      const uneven = traceAt(time, (i) => drifting(time[i]!) + narrowPeaks(time[i]!) + 0.02 * normal());
      expect(worst(estimateBaseline(uneven, options), drifting, 0, time[5999])).toBeLessThan(0.03);
    }
  });

  test('steps over spikes', () => {
    const spiked = {
      ...trace,
      signal: trace.signal.map((y, i) => (i % 511 === 100 ? y - 30 : i % 511 === 300 ? y + 30 : y)),
    };
    expect(worst(estimateBaseline(spiked, options), drifting)).toBeLessThan(0.03);
  });

  test('gives finite numbers for the shortest record, and refuses a shorter one', () => {
    const normal = repeatableNormals(2);
    const short = estimateBaseline(traceOf(24, normal), { kind: options.kind });
    expect([...short.value, ...short.uncertainty!].every(Number.isFinite)).toBe(true);
    const thrown = thrownBy(() => estimateBaseline(traceOf(23, normal), { kind: options.kind }));
    expect(thrown.code).toBe('trace-too-short');
  });
});

describe('What the baseline must not eat', () => {
  const flat = (t: number) => 3 + 0.05 * t;

  test.each([
    ['knots', 0.02],
    ['arpls', 0.02],
  ] as const)('a late wide peak that is avoided, kind %s', (kind, tolerance) => {
    const trace = run(flat, (t) => narrowPeaks(t) + 2 * gauss(t, 16, 0.9));
    const avoid = [...aroundNarrow.filter(({ to }) => to < 12.5), { from: 12.4, to: 19.6 }];
    expect(worst(estimateBaseline(trace, { kind, avoid }), flat)).toBeLessThan(tolerance * 2);
  });

  test.each([
    ['knots', 0.03],
    ['arpls', 0.03],
  ] as const)('a broad hump that is avoided, kind %s', (kind, tolerance) => {
    const trace = run(flat, (t) => 20 * gauss(t, 10, 1.5));
    expect(worst(estimateBaseline(trace, { kind, avoid: [{ from: 4, to: 16 }] }), flat)).toBeLessThan(tolerance * 20);
  });

  test('a late peak of a fortieth of the run, kind arpls, without being told', () => {
    const trace = run(flat, (t) => narrowPeaks(t) + 5 * gauss(t, 16, 0.5));
    expect(worst(estimateBaseline(trace, { kind: 'arpls' }), flat)).toBeLessThan(0.02 * 5);
  });

  test('downward peaks that are avoided, both kinds', () => {
    const trace = run(flat, (t) => -narrowPeaks(t));
    for (const kind of ['knots', 'arpls'] as const) {
      expect(worst(estimateBaseline(trace, { kind, avoid: aroundNarrow }), flat)).toBeLessThan(0.03);
    }
  });
});

describe('The uncertainty', () => {
  test.each(['knots', 'arpls'] as const)('of kind %s is the scatter over repeats, within a factor of 2', (kind) => {
    const levels: number[] = [];
    const said: number[] = [];
    for (let seed = 1; seed <= 40; seed++) {
      const { trace } = simulateTrace({ duration: 20, interval: 0.3, noise: { white: 0.1 }, seed });
      const baseline = estimateBaseline(trace, { kind });
      levels.push(baselineAt(baseline, 9.9));
      said.push(baselineAt({ ...baseline, value: baseline.uncertainty! }, 9.9));
    }
    const mean = levels.reduce((a, b) => a + b, 0) / 40;
    const scatter = Math.sqrt(levels.reduce((a, b) => a + (b - mean) ** 2, 0) / 39);
    const middle = said.sort((a, b) => a - b)[20]!;
    expect(middle / scatter).toBeGreaterThan(0.5);
    expect(middle / scatter).toBeLessThan(2);
  });
});

test('The baseline jumps where it may, and follows both levels to a twentieth of the jump', () => {
  const level = (t: number) => (t < 8 ? 1 : 6);
  const baseline = estimateBaseline(run(level, narrowPeaks), { avoid: aroundNarrow, steps: [8 - 1 / 600] });
  expect(worst(baseline, level, 0, 7.98)).toBeLessThan(0.25);
  expect(worst(baseline, level, 8.02)).toBeLessThan(0.25);
});

test('A stiffer arPLS line bends less', () => {
  const wave = (t: number) => Math.sin(2 * t);
  const trace = run(wave, () => 0);
  const height = (sharpestBend: number) =>
    Math.max(...estimateBaseline(trace, { kind: 'arpls', sharpestBend }).value.slice(20, -20).map(Math.abs));
  expect(height(0.1)).toBeGreaterThan(0.95);
  expect(height(3)).toBeLessThan(0.6);
});

test('Wrong options are refused by name', () => {
  const trace = run(() => 1, narrowPeaks);
  const refusal = (options: unknown) => thrownBy(() => estimateBaseline(trace, options as BaselineOptions));
  expect(refusal({ kind: 'line' })).toMatchObject({ code: 'option-invalid', details: { field: 'kind' } });
  expect(refusal({ avoids: [] }).message).toContain('did you mean avoid?');
  expect(refusal({ kind: 'arpls', steps: [1] })).toMatchObject({ code: 'option-unknown' });
  expect(refusal({ peakWidth: 0 })).toMatchObject({ details: { field: 'peakWidth' } });
  expect(refusal({ sharpestBend: Number.NaN })).toMatchObject({ details: { field: 'sharpestBend' } });
  expect(refusal({ steps: [Infinity] })).toMatchObject({ details: { field: 'steps[0]' } });
  expect(refusal({ avoid: [{ from: 2, to: 1 }] })).toMatchObject({ details: { field: 'avoid[0]' } });
  expect(refusal({ avoid: [{ from: -1, to: 30 }] }).message).toContain('3 means of short blocks stay free');
  expect(refusal({ avoid: 3 })).toMatchObject({ details: { field: 'avoid' } });
});

test.each([
  [1, 0.5],
  [2, 1.5],
])('arPLS takes little of a lone peak %d sharpest bends broad: below %d %% of its area', (bends, percent) => {
  const bend = 1;
  const sigma = bends * bend;
  const trace = run(
    () => 0,
    (t) => 10 * gauss(t, 11, sigma),
  );
  const baseline = estimateBaseline(trace, { kind: 'arpls', sharpestBend: bend });
  let taken = 0;
  for (let t = 11 - 4 * sigma; t < 11 + 4 * sigma; t += 0.01) taken += 0.01 * baselineAt(baseline, t);
  expect((100 * taken) / (10 * sigma * Math.sqrt(2 * Math.PI))).toBeLessThan(percent);
});
