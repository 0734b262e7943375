import { describe, expect, test } from 'vitest';
import {
  applyRules,
  createTrace,
  integrate,
  planIntegration,
  type Candidate,
  type IntegrationPlan,
  type PlanOptions,
} from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';
import { candidate, plannedPeak, planOf, straight } from '../../support/plans.js';
import { repeatableNormals, traceAt } from '../../support/traces.js';

const time = Array.from({ length: 6001 }, (_, i) => i / 500);
const hill = (t: number, at: number, height: number, sigma = 0.1): number =>
  height * Math.exp(-0.5 * ((t - at) / sigma) ** 2);
/** A peak at 4 min with an exponential tail of 0.4 min. */
const tailing = (t: number, height = 1000): number =>
  t < 4 ? hill(t, 4, height) : height * (t < 4.2 ? hill(t, 4, 1) : Math.exp(-2) * Math.exp(-(t - 4.2) / 0.4));
const run = straight(0, 12, 2, 2);
const record = (signal: (t: number) => number) => traceAt(time, (i) => 2 + signal(time[i]!));
const chainOf = (...apexes: readonly [at: number, height: number, sigma?: number][]): Candidate[] =>
  apexes.map(([at, height, sigma = 0.1], i) =>
    candidate(at, sigma, {
      height,
      from: i > 0 ? apexes[i - 1]![0] : at - 6 * sigma,
      to: i < apexes.length - 1 ? apexes[i + 1]![0] : at + 12 * sigma,
      fromKind: i > 0 ? 'neighbour' : 'baseline',
      toKind: i < apexes.length - 1 ? 'neighbour' : 'baseline',
    }),
  );
const ridesOf = (plan: IntegrationPlan) => plan.regions.map(({ peaks }) => peaks.map(({ rides }) => rides));
const planned = (signal: (t: number) => number, candidates: readonly Candidate[], divider: PlanOptions['divider']) => {
  const trace = record(signal);
  const plan = planIntegration(trace, candidates, run, { divider: divider! });
  return { trace, plan, ...integrate(trace, plan) };
};

describe.each(['tangent skim', 'exponential skim'] as const)('a %s', (divider) => {
  test('leaves the larger peak what lies under it, and says what it took off', () => {
    const candidates = chainOf([4, 1000], [4.9, 60]);
    const { plan, peaks, regions } = planned((t) => tailing(t) + hill(t, 4.9, 60), candidates, divider);
    expect(ridesOf(plan)).toEqual([[undefined, 'p4.000']]);
    const [parent, rider] = peaks;
    expect([parent!.start, parent!.end]).toEqual([regions[0]!.start, regions[0]!.end]);
    expect(rider!.end).toBeLessThanOrEqual(parent!.end);
    expect(parent!.transfers).toEqual([{ to: rider!.id, area: rider!.area }]);
    expect(rider).not.toHaveProperty('transfers');
    const drop = planned((t) => tailing(t) + hill(t, 4.9, 60), candidates, 'drop line').regions[0]!;
    expect(regions[0]!.area).toBeCloseTo(drop.area, 8);
    expect(parent!.area + rider!.area).toBeCloseTo(drop.area, 8);
    expect(plan.baselines.map(({ kind }) => kind)).toEqual(['straight', divider]);
    expect(rider!.decisions.filter(({ rule }) => rule === divider).map(({ about }) => about)).toEqual(['start', 'end']);
    expect(parent!.decisions.at(-1)!.text).toBe(
      `What lies at 4.900 min rides on it: its area above the ${divider} is transferred.`,
    );
    expect(JSON.parse(JSON.stringify(plan))).toEqual(plan);
  });

  test('is the same in a mirror: in front of a peak that fronts', () => {
    const shape = (t: number): number => tailing(t) + hill(t, 4.9, 60);
    const behind = planned(shape, chainOf([4, 1000], [4.9, 60]), divider).peaks;
    const mirrored = chainOf([7.1, 60], [8, 1000]).map((c, i) =>
      i === 0 ? { ...c, from: 12 - (4.9 + 1.2) } : { ...c, to: 8.6 },
    );
    const front = planned((t) => shape(12 - t), mirrored, divider).peaks;
    expect(front.map((p) => p.startKind)).toEqual(['skim', 'baseline']);
    expect(front[0]!.area / behind[1]!.area).toBeCloseTo(1, 6);
    expect(front[1]!.area / behind[0]!.area).toBeCloseTo(1, 6);
    expect(12 - front[0]!.start).toBeCloseTo(behind[1]!.end, 6);
    expect(12 - front[0]!.end).toBeCloseTo(behind[1]!.start, 6);
  });

  test('works on peaks that point down', () => {
    const up = planned((t) => tailing(t) + hill(t, 4.9, 60), chainOf([4, 1000], [4.9, 60]), divider);
    const down = planned((t) => -tailing(t) - hill(t, 4.9, 60), chainOf([4, -1000], [4.9, -60]), divider);
    expect(ridesOf(down.plan)).toEqual(ridesOf(up.plan));
    up.peaks.forEach((peak, i) => expect(down.peaks[i]!.area / -peak.area).toBeCloseTo(1, 6));
  });

  test('carries several riders one after another on one peak', () => {
    const shape = (t: number): number => tailing(t) + hill(t, 4.8, 80, 0.06) + hill(t, 5.4, 30, 0.06);
    const { plan, peaks } = planned(shape, chainOf([4, 1000], [4.8, 80, 0.06], [5.4, 30, 0.06]), divider);
    expect(ridesOf(plan)).toEqual([[undefined, 'p4.000', 'p4.000']]);
    expect(peaks[1]!.end).toBeLessThanOrEqual(peaks[2]!.start);
    expect(peaks[0]!.transfers!.map(({ to }) => to)).toEqual(['p4.800', 'p5.400']);
  });

  test('puts two fused riders on one skim, and the smaller of them on the larger', () => {
    const shape = (t: number): number => tailing(t) + hill(t, 5, 120, 0.08) + hill(t, 5.27, 60, 0.08);
    const { plan, peaks } = planned(shape, chainOf([4, 1000], [5, 120, 0.08], [5.27, 60, 0.08]), divider);
    expect(ridesOf(plan)).toEqual([[undefined, 'p4.000', 'p5.000']]);
    expect(peaks[1]!.start).toBeLessThan(peaks[2]!.start);
    expect(peaks[1]!.end).toBeGreaterThanOrEqual(peaks[2]!.end);
    expect(peaks[0]!.transfers![0]!.area).toBeCloseTo(peaks[1]!.area + peaks[2]!.area, 8);
  });

  test('finds nearly the same on a noisy record', () => {
    const shape = (t: number): number => tailing(t) + hill(t, 4.9, 60);
    const candidates = chainOf([4, 1000], [4.9, 60]);
    const clean = planned(shape, candidates, divider).peaks[1]!;
    for (const seed of [1, 2, 3, 4, 5]) {
      const normal = repeatableNormals(seed);
      const trace = createTrace({
        time,
        signal: time.map((t) => 2 + shape(t) + normal()),
        timeUnit: 'min',
        signalUnit: 'mAU',
      });
      const rider = integrate(trace, planIntegration(trace, candidates, run, { divider })).peaks[1]!;
      // One mAU of noise at 500 a minute; the rider is 60 high.
      expect(Math.abs(rider.start - clean.start)).toBeLessThan(0.02);
      expect(Math.abs(rider.area / clean.area - 1)).toBeLessThan(0.06);
    }
  });
});

describe('a small rider on the tail of a rider', () => {
  const emgTail = (t: number, at: number, height: number): number =>
    t < at ? hill(t, at, height, 0.05) : height * Math.exp(-(t - at) / 0.15);
  const shape = (t: number): number => tailing(t, 4000) + emgTail(t, 5.6, 200) + hill(t, 6, 40, 0.05);

  test('rides on that one, whose own tail gives the rate of its exponential', () => {
    const { plan, peaks } = planned(shape, chainOf([4, 4000], [5.6, 200, 0.05], [6, 40, 0.05]), 'exponential skim');
    expect(ridesOf(plan)).toEqual([[undefined, 'p4.000', 'p5.600']]);
    const rate = Number(/falling by ([\d.]+) per minute/.exec(peaks[2]!.decisions[1]!.text)![1]);
    expect(rate * 0.15).toBeCloseTo(1, 1);
    // Nothing but exponentials under it: it gets its whole area.
    expect(peaks[2]!.area / (60 * 40 * 0.05 * Math.sqrt(2 * Math.PI))).toBeGreaterThan(0.8);
  });
});

describe('where no skim can be laid a drop line divides, and the decision says why', () => {
  test('for want of a valley', () => {
    const trace = record((t) => tailing(t));
    const plan = planIntegration(trace, chainOf([4, 1000], [4.6, 60]), run, { divider: 'tangent skim' });
    const [left, right] = plan.regions[0]!.peaks;
    expect([left!.endKind, right!.startKind]).toEqual(['drop line', 'drop line']);
    expect(left!.end).toBe(right!.start);
    const why = right!.decisions.find(({ rule }) => rule === 'drop line for want of a skim')!.text;
    expect(why).toMatch(
      /^No tangent skim: (the signal has no valley between 4\.000 and 4\.600 min|the peak at 4\.600 min has no width above the valley)\. A drop line instead\.$/,
    );
  });

  test('for want of a place to touch before the next peak', () => {
    // The signal rises from valley to valley.
    const shape = (t: number): number => hill(t, 4, 100) + hill(t, 4.35, 60) + hill(t, 4.68, 90);
    const candidates = chainOf([4, 100], [4.35, 60], [4.68, 90]);
    const { plan } = planned(shape, candidates, 'tangent skim');
    const texts = plan.regions[0]!.peaks.flatMap(({ decisions }) => decisions.map(({ text }) => text));
    expect(
      ridesOf(plan)
        .flat()
        .some((rides) => rides === undefined),
    ).toBe(true);
    expect(texts.every((text) => text.length > 0)).toBe(true);
  });
});

describe('rules by time', () => {
  test('lay a skim where they say, and none elsewhere', () => {
    const shape = (t: number): number => tailing(t) + hill(t, 4.9, 60) + hill(t, 9, 100) + hill(t, 9.4, 20);
    const trace = record(shape);
    const candidates = [...chainOf([4, 1000], [4.9, 60]), ...chainOf([9, 100], [9.4, 20])];
    const plan = planIntegration(trace, candidates, run);
    const ruled = applyRules(trace, plan, [{ kind: 'divide by', from: 4, to: 5, divider: 'exponential skim' }]);
    expect(ridesOf(ruled)).toEqual([
      [undefined, 'p4.000'],
      [undefined, undefined],
    ]);
    const direct = planIntegration(trace, candidates.slice(0, 2), run, { divider: 'exponential skim' });
    expect(integrate(trace, ruled).peaks[1]!.area).toBe(integrate(trace, direct).peaks[1]!.area);
  });

  test('cut the larger peak before its rider', () => {
    const trace = record((t) => tailing(t) + hill(t, 4.9, 60));
    const plan = planIntegration(trace, chainOf([4, 1000], [4.9, 60]), run, { divider: 'tangent skim' });
    const reason = 'not of interest';
    const ruled = applyRules(trace, plan, [{ kind: 'no peaks within', from: 4.8, to: 5.2, reason }]);
    const left = ruled.regions[0]!.peaks;
    expect(left).toHaveLength(1);
    expect(left[0]).not.toHaveProperty('rides');
    expect(ruled.hidden!.map(({ id }) => id)).toEqual(['p4.900']);
    expect(integrate(trace, ruled).peaks[0]).not.toHaveProperty('transfers');
  });
});

describe('integrate', () => {
  const trace = traceAt(time, (i) => 10 + hill(time[i]!, 5, 100));
  const on = (rides: string, start: number, end: number, id = 'rider') => ({ ...plannedPeak(id, start, end), rides });
  const whole = plannedPeak('whole', 4, 6);

  test('measures a plan made by hand in which one peak rides on another', () => {
    const floor = straight(0, 12, 0, 0);
    const top = { id: 'top', kind: 'straight', time: [4.8, 5.2], value: [90, 90] };
    const plan = planOf([whole, { ...on('whole', 4.8, 5.2), baseline: 'top' }], floor, top);
    const { peaks, regions } = integrate(trace, { ...plan, regions: [{ ...plan.regions[0]!, end: 6 }] });
    expect(peaks[0]!.area + peaks[1]!.area).toBeCloseTo(regions[0]!.area, 9);
    expect(peaks[0]!.transfers).toEqual([{ to: 'rider', area: peaks[1]!.area }]);
  });

  test.each([
    [
      'outside the peak it rides on',
      [whole, on('whole', 5.5, 6.5)],
      'within what the record, peak whole and the peak before leave',
    ],
    [
      'on a peak that is not there',
      [whole, on('nobody', 4.5, 5)],
      'rides on peak nobody, which its region does not hold',
    ],
    ['on itself', [on('rider', 4.5, 5)], 'rides on itself, by way of others'],
    ['over another rider', [whole, on('whole', 4.5, 5), on('whole', 4.9, 5.5, 'second')], 'peak second'],
  ] as const)('refuses a peak that rides %s', (_, peaks, message) => {
    const plan = { baselines: [straight(0, 12)], regions: [{ start: 4, end: 7, peaks }] };
    const error = thrownBy(() => integrate(trace, plan));
    expect(error.code).toBe('plan-invalid');
    expect(error.message).toContain(message);
  });
});
