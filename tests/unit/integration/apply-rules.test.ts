import { describe, expect, test } from 'vitest';
import { applyRules, integrate, planIntegration, type IntegrationPlan, type Rule } from '../../../src/index.js';
import { candidate, plannedPeak, planOf, straight } from '../../support/plans.js';
import { traceAt } from '../../support/traces.js';

const time = Array.from({ length: 2001 }, (_, i) => i / 200);
const peak = (t: number, at: number, height: number, sigma = 0.1): number =>
  height * Math.exp(-0.5 * ((t - at) / sigma) ** 2);
const run = straight(0, 10, 2, 2);
const record = (signal: (t: number) => number) => traceAt(time, (i) => 2 + signal(time[i]!));
const reason = 'not of interest';

/** Three that touch, at 4.6, 5 and 5.4 min. */
const trace = record((t) => peak(t, 4.6, 50) + peak(t, 5, 100) + peak(t, 5.4, 70));
const candidates = [candidate(4.6, 0.1, { height: 50 }), candidate(5, 0.1), candidate(5.4, 0.1, { height: 70 })];
const plan = planIntegration(trace, candidates, run);
const peaksOf = ({ regions }: IntegrationPlan) => regions.flatMap(({ peaks }) => peaks);
const areas = (of: IntegrationPlan) => integrate(trace, of).peaks.map(({ area }) => area);
const total = (numbers: readonly number[]) => numbers.reduce((sum, area) => sum + area, 0);

test('no rules leave the very plan', () => {
  expect(applyRules(trace, plan, [])).toBe(plan);
});

test('rules that find nothing to do leave the very plan', () => {
  expect(applyRules(trace, plan, [{ kind: 'no peaks within', from: 8, to: 9, reason }])).toBe(plan);
  expect(applyRules(trace, plan, [{ kind: 'least height', from: 0, to: 9, least: 1e6 }])).toBe(plan);
});

test('a plan and its rules are never changed', () => {
  const rules: Rule[] = [
    { kind: 'keep together', from: 4.5, to: 5.1 },
    { kind: 'divide by', from: 5.15, to: 5.3, divider: 'valley to valley' },
    { kind: 'no peaks within', from: 0, to: 4.4, reason },
  ];
  const before = structuredClone({ plan, rules });
  applyRules(trace, plan, rules);
  expect({ plan, rules }).toStrictEqual(before);
});

test('hiding the middle of three leaves two regions with their dividers, and no area is lost', () => {
  const ruled = applyRules(trace, plan, [{ kind: 'no peaks within', from: 4.9, to: 5.1, reason }]);
  expect(ruled.regions.map(({ start, end }) => [start, end])).toStrictEqual(
    [0, 2].map((i) => [peaksOf(plan)[i]!.start, peaksOf(plan)[i]!.end]),
  );
  expect(ruled.hidden).toHaveLength(1);
  expect(ruled.hidden![0]).toMatchObject({ id: 'p5.000', rule: 1, reason });
  const hidden = planOf([ruled.hidden![0]!], run);
  expect(total(areas(ruled)) + total(areas(hidden))).toBeCloseTo(total(areas(plan)), 9);
});

test('a peak cut on both sides leaves two hidden parts with names of their own', () => {
  const lone = planIntegration(trace, [candidate(5, 0.3)], run);
  const ruled = applyRules(trace, lone, [{ kind: 'integrate only within', from: 4.9, to: 5.1, reason }]);
  expect(peaksOf(ruled)[0]).toMatchObject({ start: 4.9, end: 5.1, startKind: 'by rule', endKind: 'by rule' });
  expect(ruled.hidden!.map(({ start, end }) => [start, end])).toStrictEqual([
    [3.8, 4.9],
    [5.1, 6.2],
  ]);
  expect(new Set([...ruled.hidden!, ...peaksOf(ruled)].map(({ id }) => id)).size).toBe(3);
  // The highest sample of a part that lies on a flank is the one beside the cut.
  expect(ruled.hidden![0]!.apex).toBe(4.895);
  const parts = ruled.hidden!.map((part) => total(areas(planOf([part], run))));
  expect(total(areas(ruled)) + total(parts)).toBeCloseTo(total(areas(lone)), 9);
});

describe('split at', () => {
  test('a stretch with a valley splits there', () => {
    const one = planOf([plannedPeak('all', 4.2, 5.8, { apex: 5 })], run);
    const ruled = applyRules(trace, one, [{ kind: 'split at', from: 5.1, to: 5.3 }]);
    const [left, right] = peaksOf(ruled);
    // The valley as planIntegration finds it, by another width of its mean and fit.
    expect(left!.end).toBeCloseTo(peaksOf(plan)[1]!.end, 2);
    expect(right!.start).toBe(left!.end);
    expect([left!.id, left!.apex]).toStrictEqual(['all', 5]);
    expect(right!.apex).toBeCloseTo(5.4, 2);
    expect(total(areas(ruled))).toBeCloseTo(total(areas(one)), 9);
  });

  test('twice gives three, whichever comes first', () => {
    const one = planOf([plannedPeak('all', 4.2, 5.8, { apex: 5 })], run);
    const [a, b]: Rule[] = [
      { kind: 'split at', from: 5.2, to: 5.2 },
      { kind: 'split at', from: 4.8, to: 4.8 },
    ];
    const limits = (of: IntegrationPlan) => peaksOf(of).map(({ start, end }) => [start, end]);
    const forwards = applyRules(trace, one, [a!, b!]);
    expect(limits(forwards)).toStrictEqual([
      [4.2, 4.8],
      [4.8, 5.2],
      [5.2, 5.8],
    ]);
    expect(limits(applyRules(trace, one, [b!, a!]))).toStrictEqual(limits(forwards));
  });

  test('of a peak that points down finds the part that points down most', () => {
    const down = record((t) => -peak(t, 5, 100) - peak(t, 5.4, 70));
    const one = planOf([plannedPeak('dip', 4.5, 5.9, { apex: 5, direction: 'down' })], run);
    const [, right] = peaksOf(applyRules(down, one, [{ kind: 'split at', from: 5.1, to: 5.3 }]));
    expect(right).toMatchObject({ direction: 'down' });
    expect(right!.apex).toBeCloseTo(5.4, 2);
  });
});

describe('keep together', () => {
  test('joins those in the stretch and leaves the divider to the third', () => {
    const ruled = applyRules(trace, plan, [{ kind: 'keep together', from: 4.5, to: 5.1 }]);
    const [one, third] = peaksOf(ruled);
    const [a, b, c] = peaksOf(plan);
    expect(one).toMatchObject({ id: b!.id, start: a!.start, end: b!.end, endKind: 'drop line' });
    expect(third).toStrictEqual(c);
    expect(ruled.regions).toHaveLength(1);
    expect(total(areas(ruled))).toBeCloseTo(total(areas(plan)), 9);
  });

  test('takes in a disturbance that was set apart', () => {
    const aside = planIntegration(trace, candidates, run, { apart: [candidates[0]!] });
    const ruled = applyRules(trace, aside, [{ kind: 'keep together', from: 4.5, to: 5.1 }]);
    expect(ruled).not.toHaveProperty('apart');
    expect(peaksOf(ruled)[0]!.start).toBe(aside.apart![0]!.start);
  });

  test('of peaks from valley to valley puts the one that remains on the baseline of the run', () => {
    const own = planIntegration(trace, candidates, run, { divider: 'valley to valley' });
    const ruled = applyRules(trace, own, [{ kind: 'keep together', from: 4.5, to: 5.5 }]);
    expect(ruled.baselines).toStrictEqual([run]);
    expect(peaksOf(ruled)[0]).toMatchObject({ baseline: 'run' });
  });
});

describe('divide by', () => {
  test('valley to valley at both dividers is what planIntegration makes of it', () => {
    const own = planIntegration(trace, candidates, run, { divider: 'valley to valley' });
    const ruled = applyRules(trace, plan, [{ kind: 'divide by', from: 4.7, to: 5.3, divider: 'valley to valley' }]);
    expect(ruled.baselines).toStrictEqual(own.baselines);
    expect(areas(ruled)).toStrictEqual(areas(own));
  });

  test('at one of two dividers leaves the other a drop line', () => {
    const ruled = applyRules(trace, plan, [{ kind: 'divide by', from: 4.7, to: 4.9, divider: 'valley to valley' }]);
    const [a, b, c] = peaksOf(ruled);
    expect([a!.endKind, b!.startKind, b!.endKind, c!.startKind]).toStrictEqual([
      'valley',
      'valley',
      'drop line',
      'drop line',
    ]);
    expect([a!.baseline, b!.baseline, c!.baseline]).toStrictEqual(['under p4.600', 'under p5.000', 'run']);
    // The middle one stands on a line from the valley to the baseline of the run below its drop line.
    expect(ruled.baselines[2]!.value[1]).toBe(2);
    expect(areas(ruled)[2]).toBe(areas(plan)[2]);
  });

  test('after a rule that joins, what was divided before counts no more', () => {
    const rules: Rule[] = [
      { kind: 'keep together', from: 4.5, to: 5.1 },
      { kind: 'divide by', from: 4.7, to: 5.3, divider: 'valley to valley' },
    ];
    const ruled = applyRules(trace, plan, rules);
    expect(peaksOf(ruled).map(({ endKind }) => endKind)).toStrictEqual(['valley', 'baseline']);
  });
});

test('every effect is written on the peaks concerned', () => {
  const rules: Rule[] = [
    { kind: 'fix the baseline level', from: 5.3, to: 5.6 },
    { kind: 'expected width', from: 4.9, to: 5.1, sigma: 0.1 },
    { kind: 'divide by', from: 4.7, to: 4.9, divider: 'valley to valley' },
  ];
  const own = peaksOf(applyRules(trace, plan, rules)).map(({ decisions }) =>
    decisions
      .filter(({ rule }) => rules.some(({ kind }) => kind === rule))
      .map(({ about, text }) => `${about}: ${text}`),
  );
  expect(own).toStrictEqual([
    ['end: Divided by a baseline from valley to valley by rule 3 (divide by 4.7 to 4.9 min).'],
    [
      'peak: As wide as rule 2 (expected width 4.9 to 5.1 min) expects.',
      'start: Divided by a baseline from valley to valley by rule 3 (divide by 4.7 to 4.9 min).',
    ],
    ['baseline: The baseline is level by rule 1 (fix the baseline level 5.3 to 5.6 min).'],
  ]);
});
