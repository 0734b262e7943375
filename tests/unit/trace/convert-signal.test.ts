import { describe, expect, test } from 'vitest';
import { convertSignal, createTrace, type Trace } from '../../../src/index.js';
import { keepsTraceContract, thrownBy } from '../../support/contracts.js';

const traceIn = (signalUnit: string, signal: number[] = [0.1, 1234.5, -3]): Trace =>
  createTrace({ time: signal.map((_, i) => i), signal, timeUnit: 'min', signalUnit });

keepsTraceContract('convertSignal', (trace) => convertSignal(trace, 'µAU'));

describe('convertSignal', () => {
  test.each([
    ['AU', 'mAU', 1.5, 1500],
    ['AU', 'µAU', 1.5, 1_500_000],
    ['mAU', 'AU', 0.7, 0.0007],
    // Times a thousandth it would be 0.009000000000000001.
    ['mAU', 'AU', 9, 0.009],
    ['µAU', 'mAU', 3, 0.003],
    ['V', 'µV', 0.25, 250_000],
    ['µV', 'V', 20_000, 0.02],
    ['mV', 'V', 7, 0.007],
  ])('turns %s into %s by the exact power of ten', (from, to, value, expected) => {
    const converted = convertSignal(traceIn(from, [value, value]), to);
    expect(converted.signal[0]).toBe(expected);
    expect(converted.signalUnit).toBe(to);
    expect(converted.warnings).toStrictEqual([]);
  });

  test('reads the spelling of the unit wanted', () => {
    expect(convertSignal(traceIn('mAU'), 'uAU').signalUnit).toBe('µAU');
  });

  test('goes on saying what the source had', () => {
    expect(convertSignal(traceIn('mAU'), 'AU').meta.signalUnit.unit).toBe('mAU');
  });

  test('gives the trace itself when it is in that unit already', () => {
    const trace = traceIn('mAU');
    expect(convertSignal(trace, 'mAU')).toBe(trace);
  });

  // 1 V/AU is the usual output of detectors (common practice, no source); others exist and must be stated.
  test.each([
    ['mAU', 'mV', 1, 12, 12],
    ['mAU', 'µV', 1, 12, 12_000],
    ['mAU', 'µV', 2, 12, 24_000],
    ['µV', 'mAU', 2, 24_000, 12],
    ['mV', 'AU', 0.1, 50, 0.5],
  ])(
    'turns %s into %s at %s V/AU, and says that the scale was stated',
    (from, to, voltPerAbsorbance, value, expected) => {
      const converted = convertSignal(traceIn(from, [value, value]), to, { scale: { voltPerAbsorbance } });
      expect(converted.signal[0]).toBeCloseTo(expected, 12);
      expect(converted.warnings.map(({ code }) => code)).toStrictEqual(['signal-converted-by-stated-scale']);
    },
  );

  test('turns a unit that is neither by a stated factor', () => {
    const converted = convertSignal(traceIn('counts', [2, 4]), 'mV', { scale: { factor: 0.5 } });
    expect(Array.from(converted.signal)).toStrictEqual([1, 2]);
  });

  test.each<[string, string, object]>([
    ['mAU', 'mV', {}],
    ['V', 'AU', {}],
    ['mAU', 'mV', { scale: { factor: 1 } }],
    ['counts', 'mV', {}],
    ['mAU', 'counts', {}],
    ['counts', 'mV', { scale: { voltPerAbsorbance: 1 } }],
  ])('does not guess how much %s is in %s given %o', (from, to, options) => {
    const error = thrownBy(() => convertSignal(traceIn(from), to, options));
    expect(error.code).toBe('unit-mismatch');
    expect(error.message).toContain('pass scale: {');
  });

  test.each<[string, object, string]>([
    ['', {}, 'unit-missing'],
    ['µAU', { scale: { factor: 3 } }, 'unit-mismatch'],
    ['mV', { scale: { voltPerAbsorbance: 0 } }, 'option-invalid'],
    ['mV', { scale: { voltPerAbsorbance: Number.NaN } }, 'option-invalid'],
    ['mV', { scale: { voltsPerAbsorbance: 1 } }, 'option-unknown'],
    ['mV', { scales: 1 }, 'option-unknown'],
  ])('refuses %j with %o', (unit, options, code) => {
    expect(thrownBy(() => convertSignal(traceIn('mAU'), unit, options)).code).toBe(code);
  });

  test('refuses a scale that takes a reading beyond what any trace may hold', () => {
    expect(thrownBy(() => convertSignal(traceIn('counts', [1, 2]), 'mV', { scale: { factor: 1e100 } })).code).toBe(
      'trace-invalid',
    );
  });
});
