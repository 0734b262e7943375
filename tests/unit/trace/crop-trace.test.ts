import { expect, test } from 'vitest';
import { createTrace, cropTrace, type CropOptions } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';
import { traceAt, traceOf } from '../../support/traces.js';

const trace = traceOf(10, (i) => 10 * i);

test('cropTrace keeps both limits when samples lie on them, and goes on counting time', () => {
  const cropped = cropTrace(trace, { from: 2, to: 5 });
  expect(Array.from(cropped.time)).toStrictEqual([2, 3, 4, 5]);
  expect(Array.from(cropped.signal)).toStrictEqual([20, 30, 40, 50]);
});

test('cropTrace makes up no sample at a limit between samples', () => {
  expect(Array.from(cropTrace(trace, { from: 2.5, to: 5.5 }).time)).toStrictEqual([3, 4, 5]);
});

test('cropTrace goes to the end of the record on a side without a limit', () => {
  expect(cropTrace(trace, { to: 4 }).time).toHaveLength(5);
  expect(cropTrace(trace, { from: 8 }).time).toHaveLength(2);
  expect(cropTrace(trace, {})).toStrictEqual(trace);
  expect(cropTrace(trace, { from: -5, to: 50 })).toStrictEqual(trace);
});

test('cropTrace shares no memory with the trace it was cut from', () => {
  expect(cropTrace(trace, { to: 4 }).signal.buffer).not.toBe(trace.signal.buffer);
});

test('cropTrace takes gaps and warnings along with their samples', () => {
  const time = Array.from({ length: 40 }, (_, i) => (i < 20 ? i : i + 30));
  const gapped = traceAt(time, () => 0);
  expect(gapped.warnings).toHaveLength(1);
  expect(cropTrace(gapped, { from: 10, to: 60 }).gaps).toStrictEqual([{ from: 19, to: 50 }]);
  const before = cropTrace(gapped, { to: 18 });
  expect(before.gaps).toStrictEqual([]);
  expect(before.warnings).toStrictEqual([]);
  // A limit inside a gap leaves no sample on its far side, so nothing to be a gap between.
  expect(cropTrace(gapped, { to: 30 }).gaps).toStrictEqual([]);
});

test.each([
  [{ from: 5, to: 5 }, 'option-invalid', 'to'],
  [{ from: Number.NaN }, 'option-invalid', 'from'],
  [{ to: Infinity }, 'option-invalid', 'to'],
  [{ from: 20, to: 30 }, 'trace-too-short', 'from'],
  [{ from: 3.2, to: 4.8 }, 'trace-too-short', 'from'],
])('cropTrace refuses %o', (options, code, field) => {
  expect(thrownBy(() => cropTrace(trace, options))).toMatchObject({ code, details: { field } });
});

test('cropTrace refuses a limit it does not know', () => {
  expect(thrownBy(() => cropTrace(trace, { form: 1 } as CropOptions)).code).toBe('option-unknown');
});

test('cropTrace says where the record is when nothing lies between the limits', () => {
  const record = createTrace({ time: [60, 120, 180], signal: [0, 0, 0], timeUnit: 's', signalUnit: 'mAU' });
  expect(thrownBy(() => cropTrace(record, { from: 60, to: 120 })).message).toContain('runs from 1 to 3 min');
});
