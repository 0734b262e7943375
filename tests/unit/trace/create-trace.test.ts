import { describe, expect, test } from 'vitest';
import { createTrace, type TraceInput } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';
import { repeatableNumbers } from '../../support/traces.js';

const units = { timeUnit: 'min', signalUnit: 'mAU' } as const;
const errorOf = (input: object) => thrownBy(() => createTrace(input as TraceInput));

describe('createTrace copies', () => {
  test('time and signal of any array of numbers, and leaves the caller their arrays', () => {
    const time = Float32Array.of(0, 1, 2);
    const signal = [3, 4, 5];
    const trace = createTrace({ time, signal, ...units });
    time[0] = 9;
    signal[0] = 9;
    expect(trace.time).toStrictEqual(Float64Array.of(0, 1, 2));
    expect(trace.signal).toStrictEqual(Float64Array.of(3, 4, 5));
  });

  test('x and y as well as time and signal', () => {
    expect(createTrace({ x: [0, 1], y: [2, 3], ...units })).toStrictEqual(
      createTrace({ time: [0, 1], signal: [2, 3], ...units }),
    );
  });

  test('what else is known, and says what minute zero is', () => {
    const { meta } = createTrace({ time: [0, 1], signal: [2, 3], ...units, meta: { name: 'Blank', wavelength: 280 } });
    expect(meta).toStrictEqual({
      timeUnit: { unit: 'min', provenance: 'declared' },
      signalUnit: { unit: 'mAU', provenance: 'declared' },
      timeOrigin: 'start of record',
      name: 'Blank',
      wavelength: 280,
    });
  });
});

describe('createTrace turns time into minutes', () => {
  test.each([
    ['s', 60],
    ['seconds', 60],
    ['ms', 60_000],
    ['h', 1 / 60],
    ['Minutes', 1],
  ])('from %s', (timeUnit, perMinute) => {
    const trace = createTrace({ time: [0, perMinute, 2.5 * perMinute], signal: [0, 0, 0], timeUnit, signalUnit: 'V' });
    expect(Array.from(trace.time)).toStrictEqual([0, 1, 2.5]);
  });

  test('counted from the injection, and keeps what was recorded before it at negative times', () => {
    const trace = createTrace({
      time: [0, 30, 90],
      signal: [1, 2, 3],
      timeUnit: 's',
      signalUnit: 'mAU',
      injectedAt: 30,
    });
    expect(Array.from(trace.time)).toStrictEqual([-0.5, 0, 1]);
    expect(trace.meta).toMatchObject({ timeOrigin: 'injection', injectedAt: 0.5 });
  });

  test('without losing digits when the clock counts from far away', () => {
    const start = 1.7e12;
    const time = Array.from({ length: 4 }, (_, i) => start + 100 * i);
    const trace = createTrace({ time, signal: [0, 0, 0, 0], timeUnit: 'ms', signalUnit: 'mAU', injectedAt: start });
    expect(Array.from(trace.time)).toStrictEqual([0, 100 / 60_000, 200 / 60_000, 300 / 60_000]);
  });

  test('and refuses an injection after the end of the record', () => {
    expect(errorOf({ time: [0, 1], signal: [0, 0], ...units, injectedAt: 90 })).toMatchObject({
      code: 'option-invalid',
      details: { field: 'injectedAt', value: 90 },
    });
  });
});

describe('createTrace wants to know the units', () => {
  test.each(['timeUnit', 'signalUnit'])('and says what to pass when %s is missing', (field) => {
    const error = errorOf({ time: [0, 1], signal: [0, 0], ...units, [field]: undefined });
    expect(error).toMatchObject({ code: 'unit-missing', details: { field } });
    expect(error.message).toContain(`Pass ${field}: '`);
  });

  test('refuses a unit of time it does not know, and lists those it knows', () => {
    expect(errorOf({ time: [0, 1], signal: [0, 0], timeUnit: 'fortnight', signalUnit: 'mAU' })).toMatchObject({
      code: 'unit-unknown',
      details: { value: 'fortnight', candidates: ['min', 's', 'ms', 'h'] },
    });
  });

  test('keeps a stated signal unit it does not know, and says so', () => {
    const trace = createTrace({ time: [0, 1], signal: [0, 0], timeUnit: 'min', signalUnit: 'counts' });
    expect(trace.signalUnit).toBe('counts');
    expect(trace.warnings.map(({ code }) => code)).toStrictEqual(['signal-unit-not-known']);
  });

  test('records how a unit came to be known, and warns of one that was assumed', () => {
    const trace = createTrace({
      time: [0, 1],
      signal: [0, 0],
      ...units,
      unitProvenance: { time: 'inferred', signal: 'assumed' },
    });
    expect(trace.meta.timeUnit).toStrictEqual({ unit: 'min', provenance: 'inferred' });
    expect(trace.meta.signalUnit).toStrictEqual({ unit: 'mAU', provenance: 'assumed' });
    expect(trace.warnings.map(({ code }) => code)).toStrictEqual(['signal-unit-assumed']);
  });
});

describe('createTrace refuses', () => {
  test.each([
    ['lengths that differ', { time: [0, 1, 2], signal: [0, 0] }, { field: 'signal', value: 2, expected: '3 values' }],
    ['a single sample', { time: [0], signal: [0] }, { value: 1 }],
    ['an empty record', { time: [], signal: [] }, { value: 0 }],
    ['no array', { time: 3, signal: [0, 0] }, { field: 'time' }],
    ['no signal at all', { time: [0, 1] }, { field: 'signal' }],
    ['NaN', { time: [0, 1, 2], signal: [0, Number.NaN, 0] }, { field: 'signal', index: 1 }],
    ['infinity', { time: [0, 1, Infinity], signal: [0, 0, 0] }, { field: 'time', index: 2, value: Infinity }],
    [
      'a reading beyond all detectors',
      { time: [0, 1], signal: [0, -1e200] },
      { field: 'signal', index: 1, value: -1e200 },
    ],
    ['null', { time: [0, 1], signal: [null, 0] }, { field: 'signal', index: 0, value: null }],
    ['text', { time: [0, 1], signal: [0, '1'] }, { field: 'signal', index: 1, value: '1' }],
    ['text even where missing values may be', { time: [0, 1], signal: [0, '1'], missing: 'gap' }, { index: 1 }],
  ])('%s, and says where', (_, input, details) => {
    expect(errorOf({ ...units, ...input })).toMatchObject({ code: 'trace-invalid', details });
  });

  test.each([
    ['a repeated time', [0, 1, 1, 2], 2, 'later than time[1] = 1', 'duplicateTimes'],
    ['a time that goes back', [0, 1, 0.5, 2], 2, 'later than time[1] = 1', 'backwardTimes'],
    ['a record that runs backward', [3, 2, 1, 0], 1, 'later than time[0] = 3', 'reverse both arrays'],
  ])('%s, names both values and says what to do', (_, time, index, expected, advice) => {
    const error = errorOf({ time, signal: [0, 0, 0, 0], ...units });
    expect(error).toMatchObject({
      code: 'trace-time-not-increasing',
      details: { index, value: time[index], expected },
    });
    expect(error.message).toContain(`time[${index}] is ${time[index]!}`);
    expect(error.message).toContain(advice);
  });

  test('a time in the words of the source, not in minutes', () => {
    const error = errorOf({ time: [60, 120, 90], signal: [0, 0, 0], timeUnit: 's', signalUnit: 'V' });
    expect(error.message).toContain('time[2] is 90, not later than time[1] = 120');
  });

  test.each([
    [{ timeunits: 's' }, 'option-unknown'],
    [{ meta: { wavelenght: 280 } }, 'option-unknown'],
    [{ missing: 'zero' }, 'option-invalid'],
    [{ duplicateTimes: 'last' }, 'option-invalid'],
    [{ backwardTimes: true }, 'option-invalid'],
    [{ backwardTimes: 'sort' }, 'option-invalid'],
    [{ injectedAt: Number.NaN }, 'option-invalid'],
    [{ meta: { flow: -1 } }, 'option-invalid'],
    [{ meta: { name: 3 } }, 'option-invalid'],
    [{ x: [0, 1] }, 'option-invalid'],
    [{ unitProvenance: { time: 'guessed' } }, 'option-invalid'],
  ])('%o', (option, code) => {
    expect(errorOf({ time: [0, 1], signal: [0, 0], ...units, ...option }).code).toBe(code);
  });
});

describe('createTrace treats what it was told to treat, and says how many samples and where', () => {
  const warned = (trace: { warnings: readonly { code: string; message: string }[] }) =>
    trace.warnings.map(({ code, message }) => `${code}: ${message}`);

  test('samples at one time become their mean', () => {
    const trace = createTrace({ time: [0, 1, 1, 1, 2], signal: [0, 1, 2, 6, 4], ...units, duplicateTimes: 'mean' });
    expect(Array.from(trace.signal)).toStrictEqual([0, 3, 4]);
    expect(warned(trace)).toStrictEqual([
      "duplicate-times-merged: 2 samples at the time of the one before, the first at index 2, were treated as duplicateTimes: 'mean' says.",
    ]);
  });

  test('or the first of them', () => {
    const trace = createTrace({ time: [0, 1, 1, 2], signal: [0, 1, 2, 4], ...units, duplicateTimes: 'first' });
    expect(Array.from(trace.signal)).toStrictEqual([0, 1, 4]);
    expect(trace.warnings).toHaveLength(1);
  });

  test('samples that go back are dropped', () => {
    const trace = createTrace({ time: [0, 1, 0.5, 0.7, 2], signal: [0, 1, 2, 3, 4], ...units, backwardTimes: 'drop' });
    expect(Array.from(trace.time)).toStrictEqual([0, 1, 2]);
    expect(warned(trace)).toStrictEqual([
      "backward-times-dropped: 2 samples earlier than one before, the first at index 2, were treated as backwardTimes: 'drop' says.",
    ]);
  });

  test('but a rule for one does not allow the other', () => {
    const input = { time: [0, 1, 1, 0.5, 2], signal: [0, 0, 0, 0, 0], ...units };
    expect(errorOf({ ...input, duplicateTimes: 'first' })).toMatchObject({ details: { index: 3, value: 0.5 } });
    expect(errorOf({ ...input, backwardTimes: 'drop' })).toMatchObject({ details: { index: 2, value: 1 } });
  });

  test('missing readings become a gap, and the first is named', () => {
    const signal = [Number.NaN, 1, 2, null as unknown as number, Infinity, 5, 6];
    const trace = createTrace({ time: [0, 1, 2, 3, 4, 5, 6], signal, ...units, missing: 'gap' });
    expect(Array.from(trace.time)).toStrictEqual([1, 2, 5, 6]);
    expect(trace.gaps).toStrictEqual([{ from: 2, to: 5 }]);
    expect(warned(trace)[0]).toBe(
      "samples-missing: 3 samples without a usable time or reading, the first at index 0, were treated as missing: 'gap' says.",
    );
  });

  test('and stay a gap when the sample before them is merged with another', () => {
    const trace = createTrace({
      time: [0, 1, 1, 2, 3, 4],
      signal: [0, 1, 1, Number.NaN, 3, 4],
      ...units,
      missing: 'gap',
      duplicateTimes: 'first',
    });
    expect(trace.gaps).toStrictEqual([{ from: 1, to: 3 }]);
  });

  test('and lie where time had come to, whatever goes back after them', () => {
    const trace = createTrace({
      time: [0, 1, 2, Number.NaN, 0.5, 3, 1, 4],
      signal: [0, 1, 2, 3, 4, 5, Number.NaN, 7],
      ...units,
      missing: 'gap',
      backwardTimes: 'drop',
    });
    expect(Array.from(trace.time)).toStrictEqual([0, 1, 2, 3, 4]);
    expect(trace.gaps).toStrictEqual([
      { from: 2, to: 3 },
      { from: 3, to: 4 },
    ]);
  });

  test('and a thousand places are one warning', () => {
    const time = Array.from({ length: 2000 }, (_, i) => Math.floor(i / 2));
    const trace = createTrace({ time, signal: time, ...units, duplicateTimes: 'first' });
    expect(trace.time).toHaveLength(1000);
    expect(trace.warnings).toHaveLength(1);
    expect(trace.warnings[0]!.message).toContain('1000 samples');
  });
});

describe('createTrace sees a gap', () => {
  const gapsOf = (time: readonly number[]) => createTrace({ time, signal: time.map(() => 0), ...units }).gaps;
  const count = (n: number, from: number, step: number) => Array.from({ length: n }, (_, i) => from + i * step);

  test('where one interval is more than five times those on both sides', () => {
    expect(gapsOf([...count(20, 0, 1), ...count(20, 25, 1)])).toStrictEqual([{ from: 19, to: 25 }]);
    expect(gapsOf([...count(20, 0, 1), ...count(20, 24, 1)])).toStrictEqual([]);
  });

  test('and says so in a warning', () => {
    const time = [...count(20, 0, 1), ...count(20, 100, 1)];
    const { warnings } = createTrace({ time, signal: time, ...units });
    expect(warnings).toStrictEqual([
      {
        code: 'record-gap',
        message: 'The record has gaps (1), the first from 19 to 100 min; nothing is known there.',
        at: 19,
      },
    ]);
  });

  test('next to another gap', () => {
    const time = [...count(10, 0, 1), ...count(2, 30, 1), ...count(10, 60, 1)];
    expect(gapsOf(time)).toStrictEqual([
      { from: 9, to: 30 },
      { from: 31, to: 60 },
    ]);
  });

  test('near the end of the record', () => {
    expect(gapsOf([...count(20, 0, 1), 60, 61])).toStrictEqual([{ from: 19, to: 60 }]);
  });

  test('only when more than half of the intervals on each side are that much shorter', () => {
    // Intervals before it: 1 and 2 in turn; 6 is more than five times 1 but not five times 2.
    const before = (steps: number[]) => steps.map((_, i) => steps.slice(0, i + 1).reduce((sum, step) => sum + step, 0));
    const half = before([1, 2, 1, 2, 1, 2, 1, 2, 1, 2]);
    const most = before([1, 2, 1, 2, 1, 2, 1, 2, 1, 1]);
    expect(gapsOf([0, ...half, ...count(20, half.at(-1)! + 6, 1)])).toStrictEqual([]);
    expect(gapsOf([0, ...most, ...count(20, most.at(-1)! + 6, 1)])).toHaveLength(1);
  });

  test('but none at the seam of two sampling rates, either way', () => {
    expect(gapsOf([...count(50, 0, 0.01), ...count(50, 0.5, 1)])).toStrictEqual([]);
    expect(gapsOf([...count(50, 0, 1), ...count(50, 50, 0.01)])).toStrictEqual([]);
  });

  test('nor in jitter, nor in two or three samples', () => {
    const next = repeatableNumbers(1);
    expect(gapsOf(Array.from({ length: 2000 }, (_, i) => i + 0.9 * next()))).toStrictEqual([]);
    expect(gapsOf([0, 1])).toStrictEqual([]);
    expect(gapsOf([0, 1, 100])).toStrictEqual([]);
  });
});
