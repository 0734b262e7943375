import { describe, expect, test } from 'vitest';
import { splitAtInjections, type TraceInput } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';

const record = {
  time: Array.from({ length: 100 }, (_, i) => 6 * i),
  signal: Array.from({ length: 100 }, (_, i) => i),
  timeUnit: 's',
  signalUnit: 'mAU',
} as const;

describe('splitAtInjections', () => {
  test('gives one trace for each mark, counted from it in minutes, and leaves no sample after the first mark out', () => {
    const traces = splitAtInjections(record, [60, 240, 483]);
    expect(traces.map(({ signal }) => [signal[0], signal.at(-1)])).toStrictEqual([
      [10, 39],
      [40, 80],
      [81, 99],
    ]);
    expect(traces.map(({ time }) => time[0])).toStrictEqual([0, 0, expect.closeTo(0.05, 12)]);
    expect(traces.map(({ meta }) => [meta.injectionNumber, meta.injectedAt, meta.timeOrigin])).toStrictEqual([
      [1, 1, 'injection'],
      [2, 4, 'injection'],
      [3, 8.05, 'injection'],
    ]);
  });

  test('keeps what was recorded before each injection on request, at negative times', () => {
    const traces = splitAtInjections(record, [60, 240], { before: 30 });
    expect(traces.map(({ time }) => time[0])).toStrictEqual([-0.5, -0.5]);
    expect(traces[1]!.signal[0]).toBe(35);
    expect(traces[0]!.signal.at(-1)).toBe(39);
  });

  test('moves gaps and warnings with their samples', () => {
    const time = record.time.map((t, i) => (i < 60 ? t : t + 600));
    const traces = splitAtInjections({ ...record, time }, [0, 300]);
    expect(traces[0]!.gaps).toStrictEqual([]);
    expect(traces[0]!.warnings).toStrictEqual([]);
    expect(traces[1]!.gaps).toStrictEqual([{ from: expect.closeTo(0.9, 12), to: expect.closeTo(11, 12) }]);
    expect(traces[1]!.warnings[0]!.at).toBe(traces[1]!.gaps[0]!.from);
  });

  test.each<[string, ArrayLike<number>, string]>([
    ['no mark', [], 'option-invalid'],
    ['marks that go back', [60, 30], 'option-invalid'],
    ['a mark that is no number', [60, Number.NaN], 'option-invalid'],
    ['a mark after the end', [60, 700], 'trace-too-short'],
    ['marks with no sample between', [61, 62], 'trace-too-short'],
    ['a first mark after the end', [900], 'option-invalid'],
  ])('refuses %s', (_, marks, code) => {
    expect(thrownBy(() => splitAtInjections(record, marks)).code).toBe(code);
  });

  test('refuses injectedAt beside marks, and reads the record as strictly as createTrace', () => {
    expect(thrownBy(() => splitAtInjections({ ...record, injectedAt: 5 }, [60])).code).toBe('option-invalid');
    const unnamed = { time: record.time, signal: record.signal, timeUnit: 's' } as unknown as TraceInput;
    const error = thrownBy(() => splitAtInjections(unnamed, [60]));
    expect(error.code).toBe('unit-missing');
    expect(error.message).toMatch(/^splitAtInjections: /);
  });
});
