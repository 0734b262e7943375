import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createTrace, measurePeak, type PeakMeasures } from '../../../src/index.js';
import { locateApex } from '../../../src/numeric/index.js';
import { emg, zero } from '../../reference/measures/reference-peaks.js';

const sigma = 0.05;

interface Record {
  readonly time: Float64Array;
  readonly signal: Float64Array;
}

/** Apex and measures between two times. */
function measured({ time, signal }: Record, start: number, end: number, approx: number) {
  const trace = createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' });
  const apex = locateApex(time, signal, { approx, start, end, sign: 1 });
  const peak = { retentionTime: apex.time, height: apex.height, start, end, direction: 'up' } as const;
  return { apex, measures: measurePeak(trace, peak, zero) };
}

function closeTo(received: PeakMeasures, expected: PeakMeasures, tolerance: number): void {
  for (const name of ['halfHeight', 'tenPercent', 'fivePercent', 'tangent'] as const) {
    expect(Math.abs(received.widths[name]! / expected.widths[name]! - 1), name).toBeLessThan(tolerance);
  }
}

/** Jittered sampling at 8 to 20 samples per sigma of peaks from Gaussian to tau = 2 sigma. */
const record = fc
  .record({
    ratio: fc.integer({ min: 0, max: 20 }).map((n) => n / 10),
    perSigma: fc.integer({ min: 8, max: 20 }),
    jitter: fc.array(fc.integer({ min: -300, max: 300 }), { minLength: 50, maxLength: 50 }),
  })
  .map(({ ratio, perSigma, jitter }) => {
    const step = sigma / perSigma;
    const n = Math.round(1.6 / step);
    const time = Float64Array.from({ length: n }, (_, i) => 4.5 + (i + jitter[i % 50]! / 1000) * step);
    return { ratio, time, signal: time.map((t) => emg(t, 5, sigma, ratio * sigma)) };
  });

test('a taller signal has a taller peak of the same widths', () => {
  fc.assert(
    fc.property(record, fc.integer({ min: 1, max: 1e6 }), (r, factor) => {
      const one = measured(r, 4.6, 6, 5.03);
      const tall = measured({ time: r.time, signal: r.signal.map((y) => y * factor) }, 4.6, 6, 5.03);
      expect(Math.abs(tall.apex.height / (factor * one.apex.height) - 1)).toBeLessThan(1e-9);
      closeTo(tall.measures, one.measures, 1e-7);
      expect(tall.measures.tailingFactor! / one.measures.tailingFactor!).toBeCloseTo(1, 7);
    }),
  );
});

test('a peak that comes later keeps its widths', () => {
  fc.assert(
    fc.property(record, fc.integer({ min: 1, max: 100 }), (r, shift) => {
      const one = measured(r, 4.6, 6, 5.03);
      const late = measured(
        { time: r.time.map((t) => t + shift), signal: r.signal },
        4.6 + shift,
        6 + shift,
        5.03 + shift,
      );
      expect(late.apex.time - shift - one.apex.time).toBeCloseTo(0, 8);
      // Times of 100 min keep eleven digits of a difference; a sample at the very edge of a span may fall in or out.
      closeTo(late.measures, one.measures, 1e-3);
    }),
  );
});

test('a record read backwards has its tails swapped', () => {
  fc.assert(
    fc.property(record, (r) => {
      const one = measured(r, 4.6, 6, 5.03);
      const back = measured(
        { time: r.time.map((t) => -t).reverse(), signal: r.signal.slice().reverse() },
        -6,
        -4.6,
        -5.03,
      );
      closeTo(back.measures, one.measures, 1e-3);
      expect(Math.abs(back.measures.asymmetry! * one.measures.asymmetry! - 1)).toBeLessThan(2e-3);
    }),
  );
});

/** Uniform and normal numbers of a fixed seed (mulberry32, Box-Muller). */
function normalSource(seed: number): () => number {
  let state = seed;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

// EMG, tau = sigma, ten samples per sigma. The range of the 470 samples in 20 half widths is 6.03 standard deviations.
test.each([20, 50, 200])('noise does not bias a tailing peak at a signal-to-noise ratio of %d', (ratio) => {
  const runs = 300;
  const normal = normalSource(7);
  const exact = {
    time: 5.034868458,
    height: 6.256568477,
    half: 0.144544519,
    tenth: 0.283163386,
    twentieth: 0.333977746,
    tangent: 0.247244773,
    tailing: 1.228212,
  };
  const s = (2 * exact.height) / (ratio * 6.03);
  const sums = new Map<string, { sum: number; squares: number }>();
  const note = (name: string, off: number): void => {
    const entry = sums.get(name) ?? { sum: 0, squares: 0 };
    sums.set(name, { sum: entry.sum + off, squares: entry.squares + off * off });
  };
  const time = Float64Array.from({ length: 261 }, (_, i) => 4.5 + i * 0.005);
  const clean = time.map((t) => emg(t, 5, sigma, sigma));
  for (let run = 0; run < runs; run++) {
    const { apex, measures } = measured({ time, signal: clean.map((y) => y + s * normal()) }, 4.82, 5.45, 5.03);
    note('apex', (apex.time - exact.time) / sigma);
    note('height', apex.height / exact.height - 1);
    note('half height', measures.widths.halfHeight! / exact.half - 1);
    note('10 %', measures.widths.tenPercent! / exact.tenth - 1);
    note('5 %', measures.widths.fivePercent! / exact.twentieth - 1);
    note('tangent', measures.widths.tangent! / exact.tangent - 1);
    note('tailing', measures.tailingFactor! / exact.tailing - 1);
  }
  // Scatter at S/N 20; it falls as the noise. Measured: apex 2.6 % of sigma, height 0.7, W0.5 1.0, W0.1 1.5, W0.05 2.4,
  // tangent width 2.3, tailing 2.8 %. Twenty per cent of margin.
  const scatter = new Map([
    ['apex', 0.032],
    ['height', 0.009],
    ['half height', 0.012],
    ['10 %', 0.018],
    ['5 %', 0.029],
    ['tangent', 0.028],
    ['tailing', 0.034],
  ]);
  for (const [name, { sum, squares }] of sums) {
    const mean = sum / runs;
    const deviation = Math.sqrt(squares / runs - mean * mean);
    // Three standard errors of the mean, and the bias of the noise-free fit.
    expect(Math.abs(mean), `bias of ${name}`).toBeLessThan((3 * deviation) / Math.sqrt(runs) + 0.0025);
    expect(deviation, `scatter of ${name}`).toBeLessThan((scatter.get(name)! * 20) / ratio + 0.0005);
  }
});
