import { describe, expect, test } from 'vitest';
import { estimateBaseline, type Baseline, type BaselineOptions, type Trace } from '../../../src/index.js';
import { baselineAt } from '../../../src/baseline/index.js';
import { thrownBy } from '../../support/contracts.js';
import { repeatableNormals, traceAt, traceOf } from '../../support/traces.js';

const gauss = (t: number, at: number, sigma: number) => Math.exp((-0.5 * (t - at) * (t - at)) / (sigma * sigma));
const narrow = [2, 4.5, 7, 9, 12, 14, 17];
const peaks = (t: number) => narrow.reduce((sum, at, k) => sum + 10 ** (k % 3) * gauss(t, at, 0.06), 0);
const around = narrow.map((at) => ({ from: at - 0.36, to: at + 0.36 }));
const drifting = (t: number) => 5 + 0.2 * t;
const even = Float64Array.from({ length: 6144 }, (_, i) => i / 300);

function run(level: (t: number) => number, noise = 0.02, time = even): Trace {
  const normal = repeatableNormals(11);
  return traceAt(time, (i) => level(time[i]!) + peaks(time[i]!) + noise * normal());
}

function worst(baseline: Baseline, level: (t: number) => number, from = 0, to = 20.47): number {
  let most = 0;
  for (let t = from; t <= to; t += 0.01) most = Math.max(most, Math.abs(baselineAt(baseline, t) - level(t)));
  return most;
}

// Noise 0.02; what clips runs along the lower edge of the noise of its means: four deviations and less.
const family: readonly (readonly [string, BaselineOptions, number])[] = [
  ['asls', { kind: 'asls' }, 0.12],
  ['asls', { kind: 'asls', avoid: around }, 0.06],
  ['snip', { kind: 'snip' }, 0.06],
  ['snip', { kind: 'snip', distances: 'growing', avoid: around }, 0.06],
  // The first fit is drawn below the record beside the tallest peak, of 100, and what it cuts there stays cut.
  ['polynomial', { kind: 'polynomial', degree: 2 }, 1],
  ['polynomial', { kind: 'polynomial', avoid: around }, 0.06],
  ['straight', { kind: 'straight' }, 0.06],
  ['straight', { kind: 'straight', through: 'free ends', avoid: around }, 0.02],
  ['straight', { kind: 'straight', through: [{ time: 0.5 }, { time: 11 }, { time: 20 }] }, 0.12],
];

describe.each(family)('The baseline of kind %s, asked %o', (kind, options, tolerance) => {
  const trace = run(drifting);
  const baseline = estimateBaseline(trace, options);

  test('follows a drift under narrow peaks and says its kind', () => {
    expect(baseline.kind).toBe(kind);
    expect(baseline.id).toBe('run');
    expect(worst(baseline, drifting)).toBeLessThan(tolerance);
  });

  test('has increasing knots with finite levels and no warning', () => {
    const { time, value, warnings } = baseline;
    expect(time.every((t, i) => i === 0 || t > time[i - 1]!)).toBe(true);
    expect(value.every(Number.isFinite)).toBe(true);
    expect(value).toHaveLength(time.length);
    expect(warnings).toBeUndefined();
  });

  test('leaves its input alone and gives the same bits twice', () => {
    const before = structuredClone({ trace, options });
    expect(estimateBaseline(trace, options)).toStrictEqual(baseline);
    expect({ trace, options }).toStrictEqual(before);
  });

  test('scales with the signal and shifts with an added straight line', () => {
    const changed = (of: (y: number, t: number) => number) =>
      estimateBaseline({ ...trace, signal: trace.signal.map((y, i) => of(y, trace.time[i]!)) }, options);
    changed((y) => 1000 * y).value.forEach((v, i) => {
      expect(Math.abs(v / 1000 - baseline.value[i]!)).toBeLessThan(1e-7);
    });
    changed((y, t) => y + 30 - 0.7 * t).value.forEach((v, i) => {
      expect(Math.abs(v - (30 - 0.7 * baseline.time[i]!) - baseline.value[i]!)).toBeLessThan(1e-6);
    });
  });

  test('holds on jittered times and across a gap, and says when it took values between the samples', () => {
    const axes = [(i: number) => (i + 0.4 * Math.sin(7 * i)) / 300, (i: number) => (i < 1600 ? i : i + 150) / 300];
    for (const at of axes) {
      const time = Float64Array.from({ length: 6100 }, (_, i) => at(i));
      const laid = estimateBaseline(run(drifting, 0.02, time), options);
      expect(worst(laid, drifting, 0, 20.3)).toBeLessThan(1.5 * tolerance);
      const reads = kind === 'straight' && 'through' in options;
      expect(laid.warnings?.map(({ code }) => code)).toStrictEqual(reads ? undefined : ['baseline-on-resampled']);
    }
  });
});

test('AsLS with less asymmetry is lifted more by a tall peak', () => {
  const under = (asymmetry: number) =>
    baselineAt(
      estimateBaseline(
        run(() => 0),
        { kind: 'asls', asymmetry },
      ),
      7,
    );
  expect(under(0.1)).toBeGreaterThan(under(0.001) + 0.02);
});

test('SNIP takes away what is narrower than twice its half width and keeps what is broader', () => {
  const hump = traceAt(even, (i) => 10 * gauss(even[i]!, 10, 0.5));
  const left = (halfWidth: number) => baselineAt(estimateBaseline(hump, { kind: 'snip', halfWidth }), 10);
  expect(left(2.5)).toBeLessThan(0.05);
  expect(left(0.1)).toBeGreaterThan(9);
});

test('SNIP of compressed values lies as close under peaks of very different heights', () => {
  const baseline = estimateBaseline(
    run(() => 5),
    { kind: 'snip', compress: true, halfWidth: 0.5 },
  );
  expect(worst(baseline, () => 5)).toBeLessThan(0.07);
  const low = estimateBaseline(
    run(() => -500),
    { kind: 'snip', compress: true, halfWidth: 0.5 },
  );
  expect(worst(low, () => -500)).toBeLessThan(0.07);
});

describe('Straight lines', () => {
  test('pass through the given levels exactly and run level beyond them', () => {
    const through = [
      { time: 3, value: 7 },
      { time: 10, value: 1 },
    ];
    const baseline = estimateBaseline(run(drifting), { kind: 'straight', through });
    expect(baseline).toStrictEqual({ id: 'run', kind: 'straight', time: [3, 10], value: [7, 1] });
    expect(baselineAt(baseline, 6.5)).toBe(4);
    expect(baselineAt(baseline, 0)).toBe(7);
  });

  test('take the level of the signal where none is given, on its own times', () => {
    const time = Float64Array.from({ length: 400 }, (_, i) => i / 20 + 0.01 * Math.sin(5 * i));
    const line = traceAt(time, (i) => 3 - 0.5 * time[i]!);
    const baseline = estimateBaseline(line, { kind: 'straight', through: [{ time: 4.2 }, { time: 13 }], window: 1 });
    expect(baseline.value[0]).toBeCloseTo(0.9, 12);
    expect(baseline.value[1]).toBeCloseTo(-3.5, 12);
  });

  test('from below touch a hollow record at its corners only', () => {
    const trace = traceAt(even, (i) => Math.abs(even[i]! - 10) + 3 * gauss(even[i]!, 5, 0.2));
    const baseline = estimateBaseline(trace, { kind: 'straight' });
    // Means of 0.1 min round the corner at 10 min off by a quarter of that at most.
    expect(worst(baseline, (t) => Math.abs(t - 10))).toBeLessThan(0.05);
  });

  test('between free ends follow each free stretch from its first to its last moment', () => {
    const baseline = estimateBaseline(run(drifting), {
      kind: 'straight',
      through: 'free ends',
      avoid: [{ from: 1.5, to: 5 }, ...around.slice(2)],
    });
    expect(baseline.time.slice(0, 4)).toStrictEqual([0, 1.5, 5, 6.64]);
  });
});

test('Wrong options of the family are refused by name', () => {
  const trace = run(() => 1);
  const refusal = (options: unknown) => thrownBy(() => estimateBaseline(trace, options as BaselineOptions));
  const field = (options: unknown) => refusal(options).details['field'];
  expect(refusal({ kind: 'snips' }).message).toContain("'snip'");
  expect(refusal({ kind: 'snip', halfwidth: 1 }).message).toContain('did you mean halfWidth?');
  expect(field({ kind: 'snip', halfWidth: 0 })).toBe('halfWidth');
  expect(field({ kind: 'snip', distances: 'rising' })).toBe('distances');
  expect(field({ kind: 'snip', compress: 1 })).toBe('compress');
  expect(field({ kind: 'asls', asymmetry: 0.6 })).toBe('asymmetry');
  expect(field({ kind: 'asls', asymmetry: 0 })).toBe('asymmetry');
  expect(field({ kind: 'polynomial', degree: 13 })).toBe('degree');
  expect(field({ kind: 'polynomial', degree: 1.5 })).toBe('degree');
  expect(field({ kind: 'straight', window: -1 })).toBe('window');
  expect(field({ kind: 'straight', through: [] })).toBe('through');
  expect(field({ kind: 'straight', through: 'points' })).toBe('through');
  expect(field({ kind: 'straight', through: [{ time: 3 }, { time: 3 }] })).toBe('through[1].time');
  expect(field({ kind: 'straight', through: [{ time: 30 }] })).toBe('through[0].time');
  expect(field({ kind: 'straight', through: [{ time: 3, value: NaN }] })).toBe('through[0].value');
  expect(field({ kind: 'asls', avoid: [{ from: -1, to: 30 }] })).toBe('avoid');
  expect(field({ kind: 'straight', through: 'free ends', avoid: [{ from: -1, to: 30 }] })).toBe('avoid');
  for (const kind of ['asls', 'snip', 'polynomial', 'straight'] as const) {
    expect(
      thrownBy(() =>
        estimateBaseline(
          traceOf(23, () => 1),
          { kind },
        ),
      ).code,
    ).toBe('trace-too-short');
    const short = estimateBaseline(traceOf(24, repeatableNormals(2)), { kind });
    expect(short.value.every(Number.isFinite)).toBe(true);
  }
});
