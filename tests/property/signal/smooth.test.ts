import fc from 'fast-check';
import { test } from 'vitest';
import { smooth } from '../../../src/index.js';
import { expectClose } from '../../support/close.js';
import { traceAt, traceOf } from '../../support/traces.js';

/** A reading a detector could give: to a thousandth, up to a thousand either way. */
const reading = fc.integer({ min: -1e6, max: 1e6 }).map((n) => n / 1e3);
const samples = fc.array(reading, { minLength: 15, maxLength: 60 });
const half = fc.integer({ min: 2, max: 7 });
const degree = fc.integer({ min: 1, max: 5 });

const golay = (points: number, polynomial: number, derivative = 0) =>
  ({ method: 'savitzky-golay', window: points, polynomial: Math.min(polynomial, points - 1), derivative }) as const;

test('a polynomial of the fitted degree comes back unchanged, ends included', () => {
  fc.assert(
    fc.property(half, fc.array(reading, { minLength: 2, maxLength: 6 }), (h, coefficients) => {
      const polynomial = Math.min(coefficients.length - 1, 2 * h);
      const used = coefficients.slice(0, polynomial + 1);
      const trace = traceOf(60, (i) => used.reduce((sum, c, k) => sum + c * (i / 60) ** k, 0));
      expectClose(smooth(trace, golay(2 * h + 1, polynomial)).signal, trace.signal, 1e-10);
    }),
  );
});

test('the derivative of a polynomial is its derivative, ends included', () => {
  fc.assert(
    fc.property(half, fc.array(reading, { minLength: 2, maxLength: 5 }), (h, coefficients) => {
      const time = Array.from({ length: 60 }, (_, i) => i / 60);
      const trace = traceAt(time, (i) => coefficients.reduce((sum, c, k) => sum + c * time[i]! ** k, 0));
      const slope = time.map((t) => coefficients.reduce((sum, c, k) => sum + (k === 0 ? 0 : k * c * t ** (k - 1)), 0));
      const { signal } = smooth(trace, { ...golay((2 * h + 1) / 60, 4, 1), polynomial: coefficients.length - 1 });
      // Relative to the largest reading: a derivative of a nearly level polynomial carries the rounding of its values.
      const scale = Math.max(...coefficients.map(Math.abs), 1);
      expectClose([...signal, 100 * scale], [...slope, 100 * scale], 1e-10);
    }),
  );
});

test('smoothing backwards in time is smoothing, backwards; a slope changes its sign', () => {
  fc.assert(
    fc.property(samples, half, degree, fc.constantFrom(0, 1), (y, h, polynomial, derivative) => {
      const options = golay(2 * h + 1, polynomial, derivative);
      const sign = derivative === 1 ? -1 : 1;
      const forwards = smooth(
        traceOf(y.length, (i) => y[i]!),
        options,
      );
      const backwards = smooth(
        traceOf(y.length, (i) => y[y.length - 1 - i]!),
        options,
      );
      const turned = Array.from(backwards.signal, (v) => sign * v).reverse();
      expectClose([...turned, 1e3], [...forwards.signal, 1e3], 1e-12);
    }),
  );
});

test('smoothing a sum is the sum of smoothing', () => {
  fc.assert(
    fc.property(samples, reading, half, degree, (y, factor, h, polynomial) => {
      const options = golay(2 * h + 1, polynomial);
      const other = (i: number) => factor * Math.cos(i);
      const of = (signal: (i: number) => number) => smooth(traceOf(y.length, signal), options).signal;
      const [a, b, both] = [of((i) => y[i]!), of(other), of((i) => y[i]! + other(i))];
      expectClose([...both, 1e3], [...a.map((v, i) => v + b[i]!), 1e3], 1e-12);
    }),
  );
});
