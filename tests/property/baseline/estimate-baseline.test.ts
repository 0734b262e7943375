import fc from 'fast-check';
import { test } from 'vitest';
import { estimateBaseline, estimateNoise, type Trace } from '../../../src/index.js';
import { expectClose } from '../../support/close.js';
import { repeatableNormals, traceOf } from '../../support/traces.js';

/** Records of white noise with a few Gaussian peaks anywhere. */
const recordOf = (fewest: number, lowest: number): fc.Arbitrary<Trace> =>
  fc
    .tuple(
      fc.integer({ min: 1, max: 1e6 }),
      fc.integer({ min: fewest, max: 900 }),
      fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.integer({ min: lowest, max: 500 })), {
        maxLength: 4,
      }),
    )
    .map(([seed, n, peaks]) => {
      const normal = repeatableNormals(seed);
      return traceOf(n, (i) =>
        peaks.reduce((sum, [at, height]) => sum + height * Math.exp(-0.5 * ((i - at * n) / 6) ** 2), normal()),
      );
    });
const record = recordOf(60, -500);
const kind = fc.constantFrom('knots' as const, 'arpls' as const);
const line = fc.tuple(fc.integer({ min: -1000, max: 1000 }), fc.integer({ min: -5, max: 5 }));

// Upward peaks: through downward ones that are not avoided arPLS may run along three points, and magnify the last digits.
test('a baseline shifts with a straight line added to the record, whatever the record', () => {
  fc.assert(
    fc.property(recordOf(200, 0), kind, line, (trace, k, [level, slope]) => {
      const at = (t: number) => level + slope * t;
      const shifted = { ...trace, signal: trace.signal.map((y, i) => y + at(trace.time[i]!)) };
      const [plain, moved] = [estimateBaseline(trace, { kind: k }), estimateBaseline(shifted, { kind: k })];
      // Of the largest number in play: the readings, or the line.
      const scale = [500, 1000 + 5 * trace.time.length];
      const back = moved.value.map((v, i) => v - at(moved.time[i]!));
      expectClose([...back, ...scale], [...plain.value, ...scale], 1e-9);
    }),
    { numRuns: 60 },
  );
});

test('a baseline is finite, has increasing knots and covers the record, whatever the record', () => {
  fc.assert(
    fc.property(record, kind, (trace, k) => {
      const { time, value, uncertainty } = estimateBaseline(trace, { kind: k });
      const increasing = time.every((t, i) => i === 0 || t > time[i - 1]!);
      const finite = [...value, ...uncertainty!].every(Number.isFinite) && uncertainty!.every((u) => u >= 0);
      return increasing && finite && time[0]! <= 0 && time.at(-1)! >= trace.time.at(-1)! - 1e-9;
    }),
    { numRuns: 60 },
  );
});

test('noise is finite, above 0 and without a straight line or a factor the same, whatever the record', () => {
  fc.assert(
    fc.property(record, line, fc.integer({ min: 1, max: 1000 }), (trace, [level, slope], factor) => {
      const noise = estimateNoise(trace, { window: 20 });
      const other = estimateNoise(
        { ...trace, signal: trace.signal.map((y, i) => factor * (y + level + slope * trace.time[i]!)) },
        { window: 20 },
      );
      expectClose(
        other.along.value.map((v) => v / factor),
        noise.along.value,
        1e-8,
      );
      const numbers = [noise.standardDeviation, noise.correlation, ...noise.along.value, noise.timeScale!];
      return noise.standardDeviation > 0 && numbers.every(Number.isFinite);
    }),
    { numRuns: 60 },
  );
});
