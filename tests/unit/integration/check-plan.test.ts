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

test.each<[string, IntegrationPlan, string, string]>([
  ['two baselines of one name', planOf([peak], run, run), 'baselines', 'integrate: two baselines are called run.'],
  ['a baseline without knots', planOf([peak], line([], [])), 'baselines', 'baseline run has 0 times and 0 levels'],
  ['fewer levels than times', planOf([peak], line([0, 20], [1])), 'baselines', 'has 2 times and 1 levels'],
  ['a level that is no number', planOf([peak], line([0, 20], [0, NaN])), 'baselines', 'knot 1 of baseline run'],
  [
    'an infinite time',
    planOf([peak], line([0, Infinity], [0, 0])),
    'baselines',
    'knot 1 of baseline run (Infinity min',
  ],
  ['knots at one time', planOf([peak], line([3, 3], [0, 0])), 'baselines', 'not later than the one before'],
  ['two peaks of one name', planOf([peak, plannedPeak('p', 15, 16)], run), 'id', 'integrate: two peaks are called p.'],
  [
    'a baseline that is not there',
    planOf([{ ...peak, baseline: 'none' }], run),
    'baseline',
    'integrate: peak p stands on baseline none, which the plan does not hold.',
  ],
  ['an end before the start', inRegionWith(15, 5), 'start', 'its end must be later than its start'],
  ['an end at the start', inRegionWith(5, 5), 'start', 'peak p runs from 5 to 5 min'],
  ['a limit that is no number', inRegionWith(NaN, 5), 'start', 'peak p runs from NaN to 5 min'],
  ['a start before the record', inRegionWith(-1, 5), 'start', 'peak p (-1 to 5 min) leaves the record (0 to 20 min).'],
  ['an end after the record', inRegionWith(5, 20.5), 'start', 'leaves the record'],
  [
    'a start before the region',
    inRegion(6, 15),
    'start',
    'before 6 min, where its region or the peak before it begins',
  ],
  [
    'an end after the region',
    inRegion(5, 14),
    'end',
    'the region that ends at 14 min holds a peak that ends at 15 min.',
  ],
  [
    'peaks that overlap',
    planOf([peak, plannedPeak('q', 14, 16)], run),
    'start',
    'peak q starts at 14 min, before 15 min, where its region or the peak before it ends.',
  ],
])('a plan with %s is refused, saying what is wrong', (_, plan, field, message) => {
  const error = thrownBy(() => integrate(trace, plan));
  expect(error.code).toBe('plan-invalid');
  expect(error.details['field']).toBe(field);
  expect(error.message).toContain(message);
});

function inRegionWith(start: number, end: number): IntegrationPlan {
  return { baselines: [run], regions: [{ start: -10, end: 30, peaks: [plannedPeak('p', start, end)] }] };
}

test('a plan without regions, and limits at the very ends of the record, are accepted', () => {
  expect(integrate(trace, { baselines: [], regions: [] })).toEqual({ peaks: [], regions: [] });
  expect(integrate(trace, planOf([plannedPeak('p', 0, 20)], run)).peaks[0]!.area).toBe(300);
});
