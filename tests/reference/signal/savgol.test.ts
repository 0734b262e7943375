import { readFileSync } from 'node:fs';
import { describe, test } from 'vitest';
import { smooth } from '../../../src/index.js';
import { expectClose } from '../../support/close.js';
import { traceAt } from '../../support/traces.js';

const reference = JSON.parse(readFileSync(new URL('savgol.json', import.meta.url), 'utf8')) as {
  step: number;
  signal: number[];
  cases: { points: number; polynomial: number; derivative: number; expected: number[] }[];
};

describe('scipy.signal.savgol_filter gives the same, ends included', () => {
  const { step, signal, cases } = reference;
  const trace = traceAt(
    signal.map((_, i) => i * step),
    (i) => signal[i]!,
  );
  test.each(cases)(
    'for $points points, degree $polynomial, derivative $derivative',
    ({ points, polynomial, derivative, expected }) => {
      const smoothed = smooth(trace, { method: 'savitzky-golay', window: points * step, polynomial, derivative });
      // Their end polynomials come from a plain power basis: 1e-9 is their rounding, at 59 points and degree 5.
      expectClose(smoothed.signal, expected, 1e-9);
    },
  );
});
