import { describe, expect, test } from 'vitest';
import { createTrace, subtractBlank } from '../../../src/index.js';
import { keepsTraceContract, thrownBy } from '../../support/contracts.js';
import { repeatableNormals, traceAt, traceOf } from '../../support/traces.js';

const codes = (trace: { warnings: readonly { code: string }[] }) => trace.warnings.map(({ code }) => code);

const zeros = traceOf(600, () => 0);
keepsTraceContract(
  'subtractBlank',
  (trace) =>
    subtractBlank(
      trace,
      traceAt([-100, 400], () => 0),
    ).trace,
);

describe('subtractBlank', () => {
  test('takes off the blank at the times of the trace, between its samples on straight lines', () => {
    const trace = traceOf(5, (i) => 10 + i);
    const blank = traceAt([-1, 0.5, 9], (i) => [0, 3, 20][i]!);
    const { signal, time } = subtractBlank(trace, blank).trace;
    expect(time).toStrictEqual(trace.time);
    const under = (t: number) => (t < 0.5 ? 2 * (t + 1) : 3 + 2 * (t - 0.5));
    for (let i = 0; i < 5; i++) expect(signal[i]).toBeCloseTo(10 + i - under(i), 12);
  });

  test('moves the blank later by the shift', () => {
    const peak = (centre: number) => traceOf(40, (i) => Math.max(0, 5 - Math.abs(i - centre)));
    const { trace } = subtractBlank(peak(20), peak(17), { shift: 3 });
    expect(Array.from(trace.signal).every((y) => y === 0)).toBe(true);
    expect(trace.warnings[0]!.message).toContain('moved by 3 min');
  });

  test('says how much noise it adds', () => {
    const [a, b] = [repeatableNormals(1), repeatableNormals(2)];
    const trace = traceOf(20_000, () => 0.3 * a());
    const blank = traceOf(20_000, () => 0.4 * b());
    const { addedNoise, noiseFactor, trace: difference } = subtractBlank(trace, blank);
    // The root of the sum of squares: 0.3 and 0.4 make 0.5. Tolerance: median of 20 000 correlated differences, 3 %.
    expect(addedNoise! / 0.4).toBeCloseTo(1, 1);
    expect(Math.abs(addedNoise! - 0.4)).toBeLessThan(0.012);
    expect(Math.abs(noiseFactor! - 5 / 3)).toBeLessThan(0.05);
    expect(difference.warnings[0]!.message).toMatch(/Noise added \[mAU\]: 0\.\d+; noise after over before: 1\.\d+\./);
  });

  test('knows that reading half way between two samples of the blank lowers its noise by the square root of two', () => {
    const next = repeatableNormals(3);
    const blank = traceOf(5000, () => next());
    const on = subtractBlank(
      traceAt(
        Array.from({ length: 4000 }, (_, i) => i + 1),
        () => 0,
      ),
      blank,
    );
    const between = subtractBlank(
      traceAt(
        Array.from({ length: 4000 }, (_, i) => i + 1.5),
        () => 0,
      ),
      blank,
    );
    expect(on.addedNoise! / between.addedNoise!).toBeCloseTo(Math.SQRT2, 10);
  });

  test('leaves out the samples a shorter blank does not cover, and says where', () => {
    const result = subtractBlank(
      traceOf(10, () => 1),
      traceAt([2, 7.5], () => 1),
    );
    expect(Array.from(result.trace.time)).toStrictEqual([2, 3, 4, 5, 6, 7]);
    expect(result.uncovered).toStrictEqual([
      { from: 0, to: 2 },
      { from: 7, to: 9 },
    ]);
    expect(codes(result.trace)).toStrictEqual(['blank-subtracted', 'blank-not-covering', 'blank-not-covering']);
  });

  test('makes a gap where the blank has one, and keeps those of the trace', () => {
    const withGap = (from: number) =>
      traceAt(
        Array.from({ length: 80 }, (_, i) => (i <= from ? i : i + 20)),
        () => 1,
      );
    const [trace, blank] = [withGap(20), withGap(50)];
    const result = subtractBlank(trace, blank);
    expect(result.trace.gaps).toStrictEqual([
      { from: 20, to: 41 },
      { from: 50, to: 71 },
    ]);
    expect(result.uncovered).toStrictEqual([{ from: 50, to: 71 }]);
    expect(Array.from(result.trace.time).filter((t) => t > 50 && t < 71)).toStrictEqual([]);
  });

  test('says nothing of noise it cannot know', () => {
    const short = traceAt([0, 600], () => 0);
    const result = subtractBlank(zeros, short);
    expect(result).not.toHaveProperty('addedNoise');
    expect(result).not.toHaveProperty('noiseFactor');
    expect(result.trace.warnings[0]!.message).toContain(
      'Noise added [mAU]: not known; noise after over before: not known.',
    );
    expect(subtractBlank(zeros, zeros)).toMatchObject({ addedNoise: 0 });
    expect(subtractBlank(zeros, zeros)).not.toHaveProperty('noiseFactor');
  });

  test('warns when the two do not count time from the same moment', () => {
    const blank = createTrace({ time: [0, 600], signal: [0, 0], timeUnit: 'min', signalUnit: 'mAU', injectedAt: 0 });
    expect(codes(subtractBlank(zeros, blank).trace)).toContain('blank-time-origin');
  });

  test('refuses another unit, a shift that is no number, and a blank that lies elsewhere', () => {
    const volts = createTrace({ time: [0, 1], signal: [0, 0], timeUnit: 'min', signalUnit: 'mV' });
    expect(thrownBy(() => subtractBlank(zeros, volts))).toMatchObject({
      code: 'unit-mismatch',
      details: { value: 'mV', expected: 'mAU' },
    });
    expect(thrownBy(() => subtractBlank(zeros, zeros, { shift: Infinity })).code).toBe('option-invalid');
    expect(thrownBy(() => subtractBlank(zeros, zeros, { shift: 900 }))).toMatchObject({
      code: 'trace-too-short',
      details: { value: 0 },
    });
  });
});
