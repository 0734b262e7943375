import fc from 'fast-check';
import { expect, test } from 'vitest';
import { analyse, isPeakwrightError, simulateTrace, type Rule } from '../../../src/index.js';
import { notFinite } from '../../support/finite.js';

const { trace } = simulateTrace({
  duration: 10,
  interval: 0.5,
  baseline: { offset: 3, drift: 6 },
  peaks: [2, 2.3, 4, 5, 5.25, 5.5, 8].map((retentionTime, k) => ({
    shape: 'emg',
    retentionTime,
    height: 20 + 30 * (k % 3),
    sigma: 0.06,
    tau: 0.04,
  })),
  noise: { white: 0.05 },
  seed: 8,
});
const plain = analyse(trace, { divider: 'drop line' });

const time = fc.integer({ min: 0, max: 1000 }).map((n) => n / 100);
const span = fc
  .tuple(time, time)
  .filter(([a, b]) => a !== b)
  .map(([a, b]) => ({ from: Math.min(a, b), to: Math.max(a, b) }));
const reason = 'by chance';
const moving: fc.Arbitrary<Rule> = fc.oneof(
  span.map((s): Rule => ({ kind: 'no peaks within', ...s, reason })),
  span.map((s): Rule => ({ kind: 'integrate only within', ...s, reason })),
  time.map((t): Rule => ({ kind: 'split at', from: t, to: t })),
  span.map((s): Rule => ({ kind: 'split at', ...s })),
);
const others: fc.Arbitrary<Rule> = fc.oneof(
  span.map((s): Rule => ({ kind: 'keep together', ...s })),
  span.map((s): Rule => ({ kind: 'divide by', ...s, divider: 'valley to valley' })),
  span.map((s): Rule => ({ kind: 'fix the baseline level', ...s })),
  span.map((s): Rule => ({ kind: 'baseline must pass through', ...s, at: (s.from + s.to) / 2 })),
  span.map((s): Rule => ({ kind: 'downward peaks expected', ...s })),
  fc.tuple(span, time).map(([s, sigma]): Rule => ({ kind: 'expected width', ...s, sigma: 0.01 + sigma / 10 })),
  fc.tuple(span, time).map(([s, least]): Rule => ({ kind: 'least height', ...s, least: 10 * least })),
);

/** The run under the rules; nothing when they contradict each other. */
function under(rules: readonly Rule[]): ReturnType<typeof analyse> | undefined {
  try {
    return analyse(trace, { rules, divider: 'drop line' });
  } catch (error) {
    if (isPeakwrightError(error) && error.code === 'rules-contradict') return undefined;
    throw error;
  }
}

test('what is hidden and split adds up to the areas of the run without rules', () => {
  const sum = (list: readonly { readonly area: number }[]) => list.reduce((total, { area }) => total + area, 0);
  fc.assert(
    fc.property(fc.array(moving, { minLength: 1, maxLength: 4 }), (rules) => {
      const run = under(rules);
      fc.pre(run !== undefined);
      expect(sum(run.peaks) + sum(run.hidden ?? [])).toBeCloseTo(sum(plain.peaks), 6);
      expect(sum(run.regions)).toBeCloseTo(sum(run.peaks), 6);
    }),
    { numRuns: 60 },
  );
});

test('any rules that can hold give finite numbers, ordered limits and names that are used once', () => {
  fc.assert(
    fc.property(fc.array(fc.oneof(moving, others), { minLength: 1, maxLength: 6 }), (rules) => {
      const run = under(rules);
      fc.pre(run !== undefined);
      expect(notFinite({ ...run, trace: undefined })).toStrictEqual([]);
      run.peaks.forEach(({ start, end }, i) => {
        expect(end).toBeGreaterThan(start);
        if (i > 0) expect(start).toBeGreaterThanOrEqual(run.peaks[i - 1]!.end);
      });
      const ids = [...run.peaks, ...(run.hidden ?? []).flatMap(({ peaks }) => peaks)].map(({ id }) => id);
      expect(new Set(ids).size).toBe(ids.length);
    }),
    { numRuns: 80 },
  );
});
