import { expect, test } from 'vitest';
import { resampleTrace, type ResampleOptions } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';
import { traceAt, traceOf } from '../../support/traces.js';

test('resampleTrace reads straight lines between the samples, and a sample exactly', () => {
  const trace = traceAt([0, 1, 3, 4], (i) => [0, 0.1, 0.7, 0.2][i]!);
  const { time, signal } = resampleTrace(trace, { time: [0, 0.5, 1, 2, 3, 4] });
  expect(Array.from(time)).toStrictEqual([0, 0.5, 1, 2, 3, 4]);
  expect(Array.from(signal)).toStrictEqual([0, 0.05, 0.1, 0.1 * 0.5 + 0.7 * 0.5, 0.7, 0.2]);
});

test('resampleTrace reaches the end of the record when the step divides it, in spite of rounding', () => {
  // 0.3 / 0.1 is 2.9999999999999996 in double precision, and 3 x 0.1 lies after 0.3.
  const trace = traceAt([0, 0.15, 0.3], (i) => i);
  const { time } = resampleTrace(trace, { step: 0.1 });
  expect(Array.from(time)).toStrictEqual([0, 0.1, 0.2, 0.3]);
});

test('resampleTrace stops before the end when the step does not divide the record', () => {
  const trace = traceOf(4, (i) => i);
  expect(Array.from(resampleTrace(trace, { step: 2 }).time)).toStrictEqual([0, 2]);
});

test('resampleTrace says that it resampled, and from how many samples to how many', () => {
  const { warnings } = resampleTrace(
    traceOf(10, (i) => i),
    { step: 3 },
  );
  expect(warnings.map(({ code }) => code)).toStrictEqual(['resampled']);
  expect(warnings[0]!.message).toContain('from 10 to 4 samples');
});

test('resampleTrace puts no sample into a gap, and keeps the gap', () => {
  const trace = traceAt(
    Array.from({ length: 40 }, (_, i) => (i < 20 ? i : i + 30)),
    (i) => i,
  );
  expect(trace.gaps).toStrictEqual([{ from: 19, to: 50 }]);
  const { time, gaps } = resampleTrace(trace, { step: 0.4 });
  expect(Array.from(time).filter((t) => t > 19 && t < 50)).toStrictEqual([]);
  expect(gaps).toHaveLength(1);
  expect(gaps[0]!.from).toBeCloseTo(18.8, 12);
  expect(gaps[0]!.to).toBeCloseTo(50, 12);
  // A step as long as the gap still leaps over it knowingly.
  expect(resampleTrace(trace, { time: [0, 19, 50, 69] }).gaps).toStrictEqual([{ from: 19, to: 50 }]);
});

test.each<[object, string]>([
  [{}, 'option-invalid'],
  [{ step: 1, time: [0, 1] }, 'option-invalid'],
  [{ step: 0 }, 'option-invalid'],
  [{ step: -1 }, 'option-invalid'],
  [{ step: Number.NaN }, 'option-invalid'],
  [{ step: 1e-12 }, 'option-invalid'],
  [{ step: 100 }, 'trace-too-short'],
  [{ time: [] }, 'trace-too-short'],
  [{ time: 5 }, 'option-invalid'],
  [{ time: [0, 2, 1] }, 'option-invalid'],
  [{ time: [0, 1, 1] }, 'option-invalid'],
  [{ time: [-1, 1] }, 'option-invalid'],
  [{ time: [1, 10] }, 'option-invalid'],
  [{ time: [1, Number.NaN] }, 'option-invalid'],
  [{ steps: 1 }, 'option-unknown'],
])('resampleTrace refuses %o', (options, code) => {
  const trace = traceOf(10, (i) => i);
  expect(thrownBy(() => resampleTrace(trace, options as ResampleOptions)).code).toBe(code);
});

test('resampleTrace names the time that lies outside the record', () => {
  const trace = traceOf(10, (i) => i);
  expect(thrownBy(() => resampleTrace(trace, { time: [1, 2, 12] }))).toMatchObject({
    details: { field: 'time', index: 2, value: 12 },
  });
});
