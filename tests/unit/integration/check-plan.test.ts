import { expect, test } from 'vitest';
import { integrate, type Baseline, type IntegrationPlan } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';
import { planOf, plannedPeak, straight } from '../../support/plans.js';
import { traceOf } from '../../support/traces.js';

const trace = traceOf(21, (i) => (i === 10 ? 5 : 0));
const run = straight(0, 20);
const peak = plannedPeak('p', 5, 15);
const line = (time: number[], value: number[]): Baseline => ({ id: 'run', kind: 'straight', time, value });
const inRegion = (start: number, end: number): IntegrationPlan => ({
  baselines: [run],
  regions: [{ start, end, peaks: [peak] }],
});

test.each<[string, IntegrationPlan, string, RegExp]>([
  ['two baselines of one name', planOf([peak], run, run), 'baselines', /two baselines are called run/],
  ['a baseline without knots', planOf([peak], line([], [])), 'baselines', /baseline run/],
  ['fewer levels than times', planOf([peak], line([0, 20], [1])), 'baselines', /baseline run/],
  ['more levels than times', planOf([peak], line([0, 20], [1, 2, 3])), 'baselines', /baseline run/],
  ['a level that is no number', planOf([peak], line([0, 20], [0, NaN])), 'baselines', /knot 1 of baseline run/],
  ['an infinite time', planOf([peak], line([0, Infinity], [0, 0])), 'baselines', /knot 1 of baseline run/],
  ['knots at one time', planOf([peak], line([3, 3], [0, 0])), 'baselines', /knot 1 of baseline run/],
  ['knots out of order', planOf([peak], line([0, 9, 5], [0, 0, 0])), 'baselines', /knot 2 of baseline run/],
  ['two peaks of one name', planOf([peak, plannedPeak('p', 15, 16)], run), 'id', /two peaks are called p/],
  ['a baseline that is not there', planOf([{ ...peak, baseline: 'none' }], run), 'baseline', /peak p .* baseline none/],
  ['an end before the start', inRegionWith(15, 5), 'end', /peak p \(15 to 5 min\)/],
  ['an end at the start', inRegionWith(5, 5), 'end', /peak p \(5 to 5 min\)/],
  ['a start that is no number', inRegionWith(NaN, 5), 'start', /peak p \(NaN to 5 min\)/],
  ['an end that is no number', inRegionWith(5, NaN), 'end', /peak p \(5 to NaN min\)/],
  ['a start before the record', inRegionWith(-1, 5), 'start', /peak p \(-1 to 5 min\).* 0 to 20 min/],
  ['an end after the record', inRegionWith(5, 20.5), 'end', /peak p \(5 to 20.5 min\).* 0 to 20 min/],
  ['a start before the region', inRegion(6, 15), 'start', /peak p \(5 to 15 min\).* 6 to 15 min/],
  ['an end after the region', inRegion(5, 14), 'end', /peak p \(5 to 15 min\).* 5 to 14 min/],
  ['a region that begins nowhere', inRegion(NaN, 15), 'start', /peak p \(5 to 15 min\)/],
  [
    'peaks that overlap',
    planOf([peak, plannedPeak('q', 14, 16)], run),
    'start',
    /peak q \(14 to 16 min\).* 15 to 16 min/,
  ],
])('a plan with %s is refused, saying what is wrong', (_, plan, field, message) => {
  const error = thrownBy(() => integrate(trace, plan));
  expect(error.code).toBe('plan-invalid');
  expect(error.details['field']).toBe(field);
  expect(error.message).toMatch(/^integrate: /);
  expect(error.message).toMatch(message);
});

function inRegionWith(start: number, end: number): IntegrationPlan {
  return { baselines: [run], regions: [{ start: -10, end: 30, peaks: [plannedPeak('p', start, end)] }] };
}

test('a plan without regions, and limits at the very ends of the record, are accepted', () => {
  expect(integrate(trace, { baselines: [], regions: [] })).toEqual({ peaks: [], regions: [] });
  expect(integrate(trace, planOf([plannedPeak('p', 0, 20)], run)).peaks[0]!.area).toBe(300);
});
