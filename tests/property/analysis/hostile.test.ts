import fc from 'fast-check';
import { expect, test } from 'vitest';
import { analyse, createTrace, isPeakwrightError, type Analysis, type Trace } from '../../../src/index.js';
import { notFinite } from '../../support/finite.js';
import { repeatableNormals, repeatableNumbers } from '../../support/traces.js';

const shapes: Readonly<Record<string, (i: number, n: number, random: () => number) => number>> = {
  constant: () => 3,
  zero: () => 0,
  ramp: (i) => i,
  parabola: (i) => i * i,
  step: (i, n) => Number(i > n / 3),
  'two steps': (i, n) => Number(i > n / 3) - 2 * Number(i > n / 2),
  'one spike': (i, n) => Number(i === n >> 1),
  'a spike at the start': (i) => Number(i === 0),
  'a spike at the end': (i, n) => Number(i === n - 1),
  alternating: (i) => (i % 2 === 0 ? 1 : -1),
  'three in turn': (i) => i % 3,
  'a sine of half a period': (i, n) => Math.sin((Math.PI * i) / n),
  'a sine of five periods': (i, n) => Math.sin((10 * Math.PI * i) / n),
  'a decay': (i, n) => Math.exp((-8 * i) / n),
  'a rise': (i, n) => Math.exp((8 * (i - n)) / n),
  noise: (_, __, random) => random(),
  'quantised noise': (_, __, random) => Math.round(2 * random()),
  'mostly one value': (_, __, random) => (random() > 0.95 ? 1 : 0),
  'one peak': (i, n) => Math.exp(-0.5 * ((i - n / 2) / (n / 20)) ** 2),
  'one narrow peak': (i, n) => Math.exp(-0.5 * ((i - n / 2) / 0.7) ** 2),
  'a clipped peak': (i, n) => Math.min(0.4, Math.exp(-0.5 * ((i - n / 2) / (n / 20)) ** 2)),
  'half a peak at the end': (i, n) => Math.exp(-0.5 * ((i - n) / (n / 10)) ** 2),
  'a dip and a rise': (i, n) => (i - n / 4) * Math.exp(-0.5 * ((i - n / 4) / (n / 30)) ** 2),
  'huge beside small': (i, n) => 1e9 * Number(i === n >> 2) + Math.exp(-0.5 * ((i - 0.7 * n) / (n / 30)) ** 2),
  'a comb': (i) => Number(i % 10 === 0),
};

const axes: Readonly<Record<string, (n: number, random: () => number) => number[]>> = {
  even: (n) => Array.from({ length: n }, (_, i) => i / 60),
  jittered: (n, random) => Array.from({ length: n }, (_, i) => (i + 0.9 * random()) / 60),
  'with a gap': (n) => Array.from({ length: n }, (_, i) => (i + (i > n / 2 ? n : 0)) / 60),
  'ever slower': (n) => Array.from({ length: n }, (_, i) => 1.05 ** i / 60),
  'of two rates': (n) => Array.from({ length: n }, (_, i) => (i < n / 2 ? i : n / 2 + 10 * (i - n / 2)) / 60),
  'before injection': (n) => Array.from({ length: n }, (_, i) => (i - n / 2) / 60),
  'of minute length': (n) => Array.from({ length: n }, (_, i) => i * 1e-7),
  'of days': (n) => Array.from({ length: n }, (_, i) => 1e5 + i * 60),
};

const hostile = fc
  .record({
    shape: fc.constantFrom(...Object.keys(shapes)),
    axis: fc.constantFrom(...Object.keys(axes)),
    n: fc.integer({ min: 16, max: 200 }),
    power: fc.integer({ min: -9, max: 9 }),
    noise: fc.constantFrom(0, 1e-12, 1e-3, 0.3),
    offset: fc.constantFrom(0, 1, -1e6),
    sign: fc.constantFrom(1, -1),
    seed: fc.integer({ min: 1, max: 1e6 }),
  })
  .map((c) => ({ ...c, toString: () => JSON.stringify(c) }));

function traceFrom({
  shape,
  axis,
  n,
  power,
  noise,
  offset,
  sign,
  seed,
}: typeof hostile extends fc.Arbitrary<infer T> ? T : never): Trace {
  const random = repeatableNumbers(seed);
  const normal = repeatableNormals(seed + 1);
  const scale = sign * 10 ** power;
  return createTrace({
    time: axes[axis]!(n, random),
    signal: Array.from({ length: n }, (_, i) => scale * (shapes[shape]!(i, n, random) + noise * normal()) + offset),
    timeUnit: 'min',
    signalUnit: 'mAU',
    injectedAt: 0,
  });
}

/** What must hold of any analysis, however odd the record. */
function expectSound(analysis: Analysis): void {
  const { trace, ...rest } = analysis;
  expect(notFinite(rest)).toEqual([]);
  const first = trace.time[0]!;
  const last = trace.time.at(-1)!;
  let reached = -Infinity;
  for (const peak of analysis.peaks) {
    expect(peak.start).toBeGreaterThanOrEqual(Math.max(first, reached));
    expect(peak.end).toBeGreaterThan(peak.start);
    expect(peak.end).toBeLessThanOrEqual(last);
    expect(peak.areaUncertainty).toBeGreaterThanOrEqual(0);
    reached = peak.end;
  }
  expect(JSON.stringify(rest)).not.toContain('null');
}

test('a hostile record gives a sound result or an error of our own, and never a number that is not finite', () => {
  const seen = { analysed: 0, refused: 0 };
  fc.assert(
    fc.property(hostile, (c) => {
      const trace = traceFrom(c);
      const before = trace.signal.slice();
      try {
        expectSound(analyse(trace));
        seen.analysed++;
      } catch (error) {
        if (!isPeakwrightError(error)) throw error;
        seen.refused++;
      }
      expect(trace.signal).toEqual(before);
    }),
    { numRuns: 300 },
  );
  expect(seen.analysed).toBeGreaterThan(250);
});

test('a hostile record is as sound from valley to valley, with disturbances kept as peaks', () => {
  fc.assert(
    fc.property(hostile, (c) => {
      expectSound(analyse(traceFrom(c), { divider: 'valley to valley', disturbances: 'keep as peaks' }));
    }),
    { numRuns: 150 },
  );
});

test('a record of fewer than 16 samples is refused, saying how many are needed', () => {
  const short = createTrace({ time: [0, 1, 2], signal: [0, 1, 0], timeUnit: 'min', signalUnit: 'mAU' });
  expect(() => analyse(short)).toThrow(expect.objectContaining({ code: 'trace-too-short' }));
  expect(() => analyse(short)).toThrow('16 samples are needed; the trace has 3');
});
