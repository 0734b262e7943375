import { describe, expect, test } from 'vitest';
import { integrate, planIntegration } from '../../../src/index.js';
import { candidate, straight } from '../../support/plans.js';
import { traceAt } from '../../support/traces.js';

const time = Array.from({ length: 2001 }, (_, i) => i / 200);
const peak = (t: number, at: number, height: number, sigma = 0.1): number =>
  height * Math.exp(-0.5 * ((t - at) / sigma) ** 2);
const run = straight(0, 10, 2, 2);
const record = (signal: (t: number) => number) => traceAt(time, (i) => 2 + signal(time[i]!));

describe('planIntegration', () => {
  test('gives a lone peak the limits of its candidate and says why', () => {
    const trace = record((t) => peak(t, 5, 100));
    const plan = planIntegration(trace, [candidate(5, 0.1)], run);
    expect(plan.baselines).toEqual([run]);
    expect(plan.regions).toHaveLength(1);
    expect(plan.regions[0]!.peaks[0]).toMatchObject({
      id: 'p5.000',
      apex: 5,
      start: 4.6,
      end: 5.4,
      startKind: 'baseline',
      endKind: 'baseline',
      direction: 'up',
      baseline: 'run',
    });
    expect(plan).not.toHaveProperty('apart');
    expect(plan).not.toHaveProperty('bridged');
  });

  test('puts one drop line at the valley of two that touch, with the height of the valley as reason', () => {
    const trace = record((t) => peak(t, 5, 100) + peak(t, 5.4, 100));
    const { regions } = planIntegration(trace, [candidate(5, 0.1), candidate(5.4, 0.1)], run);
    expect(regions).toHaveLength(1);
    const [left, right] = regions[0]!.peaks;
    expect(left!.end).toBeCloseTo(5.2, 6);
    expect(right!.start).toBe(left!.end);
    expect([left!.endKind, right!.startKind]).toEqual(['drop line', 'drop line']);
    const decision = left!.decisions.find((d) => d.about === 'end')!;
    // Two Gaussians four sigma apart: 2 exp(-2); a mean over 0.3 sigma on either side is a twentieth higher.
    expect(Math.abs(decision.value! / (2 * Math.exp(-2)) - 1)).toBeLessThan(0.06);
    expect(decision.limit).toBe(0.02);
    expect(decision.text).toContain((100 * decision.value!).toPrecision(3));
  });

  test('keeps two whose reaches do not meet apart', () => {
    const trace = record((t) => peak(t, 4, 100) + peak(t, 6, 50));
    const plan = planIntegration(trace, [candidate(6, 0.1, { height: 50 }), candidate(4, 0.1)], run);
    expect(plan.regions.map((r) => r.peaks.map((p) => p.id))).toEqual([['p4.000'], ['p6.000']]);
  });

  test('lets two of opposite direction meet where the signal crosses the baseline, and never shares a region', () => {
    const trace = record((t) => peak(t, 5, 100) + peak(t, 5.4, -60));
    const plan = planIntegration(trace, [candidate(5, 0.1), candidate(5.4, 0.1, { height: -60 })], run);
    expect(plan.regions).toHaveLength(2);
    const [up, down] = plan.regions.map((r) => r.peaks[0]!);
    expect(up!.end).toBe(down!.start);
    expect(up!.endKind).toBe('baseline');
    // 100 exp(-(t-5)²/0.02) = 60 exp(-(t-5.4)²/0.02): t = 5.2 + 0.025 ln(100/60).
    expect(up!.end).toBeCloseTo(5.2 + 0.025 * Math.log(100 / 60), 2);
    const [a, b] = integrate(trace, plan).peaks;
    expect(a!.area).toBeGreaterThan(0);
    expect(b!.area).toBeLessThan(0);
  });

  test('a disturbance divides but belongs to no region', () => {
    const trace = record((t) => peak(t, 5, 100) + peak(t, 5.4, 80));
    const apart = candidate(5.4, 0.1, { height: 80 });
    const plan = planIntegration(trace, [candidate(5, 0.1), apart], run, { apart: [apart] });
    expect(plan.regions.map((r) => r.peaks.map((p) => p.id))).toEqual([['p5.000']]);
    expect(plan.apart!.map((p) => p.id)).toEqual(['p5.400']);
    expect(plan.apart![0]!.start).toBe(plan.regions[0]!.end);
  });

  test('a candidate that reaches out of the record is cut off there, and says so', () => {
    const trace = record((t) => peak(t, 0.1, 100) + peak(t, 9.9, 100));
    const { regions } = planIntegration(trace, [candidate(0.1, 0.1), candidate(9.9, 0.1)], run);
    const [first, last] = regions.map((r) => r.peaks[0]!);
    expect(first).toMatchObject({ start: 0, startKind: 'cut off', endKind: 'baseline' });
    expect(last).toMatchObject({ end: 10, startKind: 'baseline', endKind: 'cut off' });
    expect(first!.decisions.find((d) => d.about === 'start')!.rule).toBe('end of the record');
  });

  test('gives two apexes that round to one name different names', () => {
    const trace = record((t) => peak(t, 5, 100));
    const { regions } = planIntegration(
      trace,
      [candidate(5.0001, 0.1, { to: 5.0002 }), candidate(5.0004, 0.1, { from: 5.0003 })],
      run,
    );
    expect(regions.flatMap((r) => r.peaks.map((p) => p.id))).toEqual(['p5.000', 'p5.000-2']);
  });

  test('from valley to valley each of a group has a straight baseline of its own, through the signal at the valley', () => {
    const trace = record((t) => peak(t, 5, 100) + peak(t, 5.4, 100));
    const plan = planIntegration(trace, [candidate(5, 0.1), candidate(5.4, 0.1), candidate(8, 0.1)], run, {
      divider: 'valley to valley',
    });
    expect(plan.baselines.map((b) => b.id)).toEqual(['run', 'under p5.000', 'under p5.400']);
    const own = plan.baselines[1]!;
    expect(own.time).toEqual([4.6, plan.regions[0]!.peaks[0]!.end]);
    expect(own.value[0]).toBe(2);
    expect(own.value[1]).toBeCloseTo(2 + 200 * Math.exp(-2), 1);
    // A lone one stays on the baseline of the run.
    expect(plan.regions[1]!.peaks[0]!.baseline).toBe('run');
  });

  test('on a plateau of many equal lowest readings there is one divider, and in a flat top one peak', () => {
    const trace = record((t) => (t > 3 && t < 3.5 ? 40 : t > 4.5 && t < 5 ? 40 : t > 2.9 && t < 5.1 ? 10 : 0));
    const both = [
      candidate(3.25, 0.2, { height: 40, from: 2.8, to: 4.2 }),
      candidate(4.75, 0.2, { height: 40, from: 3.8, to: 5.2 }),
    ];
    const [left, right] = planIntegration(trace, both, run).regions[0]!.peaks;
    expect(left!.end).toBe(right!.start);
    expect(left!.end).toBeGreaterThan(3.5);
    expect(left!.end).toBeLessThan(4.5);
    const { peaks } = integrate(trace, planIntegration(trace, both.slice(0, 1), run));
    expect(peaks).toHaveLength(1);
    expect(peaks[0]!.retentionTime).toBeCloseTo(3.25, 2);
  });
});
