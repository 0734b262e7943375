import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  applyRules,
  areaBetween,
  createTrace,
  integrate,
  planIntegration,
  type Baseline,
  type Candidate,
} from '../../../src/index.js';
import { candidate, planOf, plannedPeak } from '../../support/plans.js';
import { repeatableNumbers } from '../../support/traces.js';

const unit = fc.double({ min: 0, max: 1, noNaN: true });

/** Peaks of either sign anywhere on an uneven axis of 10 min, with candidates whose reaches may overlap at will. */
const group = fc
  .record({
    peaks: fc.array(
      fc.record({
        at: fc.integer({ min: 500, max: 9500 }).map((n) => n / 1000),
        sigma: fc.integer({ min: 20, max: 300 }).map((n) => n / 1000),
        height: fc.integer({ min: -300, max: 1000 }).filter((h) => h !== 0),
        before: fc.integer({ min: 1, max: 60 }).map((n) => n / 10),
        after: fc.integer({ min: 1, max: 60 }).map((n) => n / 10),
        fromKind: fc.constantFrom('baseline' as const, 'neighbour' as const),
        toKind: fc.constantFrom('baseline' as const, 'neighbour' as const),
      }),
      { minLength: 1, maxLength: 8 },
    ),
    seed: fc.integer({ min: 1, max: 1e6 }),
    apart: fc.integer({ min: 0, max: 255 }),
    divider: fc.constantFrom('drop line' as const, 'valley to valley' as const),
  })
  .filter(({ peaks }) => new Set(peaks.map((p) => p.at)).size === peaks.length)
  .map(({ peaks, seed, apart, divider }) => {
    const random = repeatableNumbers(seed);
    const time = Float64Array.from({ length: 1001 }, (_, i) => (i + 0.6 * random() * Number(i < 1000)) / 100);
    const shape = (t: number): number =>
      peaks.reduce((sum, p) => sum + p.height * Math.exp(-0.5 * ((t - p.at) / p.sigma) ** 2), 0);
    const signal = time.map((t) => 5 + t + shape(t) + random());
    const candidates: Candidate[] = peaks.map((p) =>
      candidate(p.at, p.sigma, {
        height: p.height,
        from: p.at - p.before * p.sigma,
        to: p.at + p.after * p.sigma,
        fromKind: p.fromKind,
        toKind: p.toKind,
      }),
    );
    const baseline: Baseline = { id: 'run', kind: 'knots', time: [0, 3, 4, 10], value: [5, 8.5, 9, 15] };
    return {
      trace: createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' }),
      candidates,
      baseline,
      options: { divider, apart: candidates.filter((_, i) => ((apart >> i) & 1) === 1 && i > 4) },
    };
  });

test('limits of neighbours are in order and never overlap, in a region and between regions, whatever the candidates', () => {
  fc.assert(
    fc.property(group, ({ trace, candidates, baseline, options }) => {
      const plan = planIntegration(trace, candidates, baseline, options);
      const all = [...plan.regions.flatMap((r) => r.peaks), ...(plan.apart ?? [])].sort((a, b) => a.start - b.start);
      all.forEach((peak, i) => {
        expect(peak.start).toBeLessThan(peak.end);
        if (i > 0) expect(peak.start).toBeGreaterThanOrEqual(all[i - 1]!.end);
        expect(peak.start).toBeGreaterThanOrEqual(trace.time[0]!);
        expect(peak.end).toBeLessThanOrEqual(trace.time.at(-1)!);
      });
      for (const { start, end, peaks } of plan.regions) {
        expect(start).toBe(peaks[0]!.start);
        expect(end).toBe(peaks.at(-1)!.end);
        // Inside a region nothing is left out between two peaks.
        for (let i = 1; i < peaks.length; i++) expect(peaks[i]!.start).toBe(peaks[i - 1]!.end);
      }
    }),
    { numRuns: 300 },
  );
});

test('no candidate is lost: each is a peak of a region or set apart, under a name of its own', () => {
  fc.assert(
    fc.property(group, ({ trace, candidates, baseline, options }) => {
      const plan = planIntegration(trace, candidates, baseline, options);
      const all = [...plan.regions.flatMap((r) => r.peaks), ...(plan.apart ?? [])];
      expect(new Set(all.map((p) => p.id)).size).toBe(all.length);
      expect(all.map((p) => p.apex).sort((a, b) => a - b)).toEqual(candidates.map((c) => c.apex).sort((a, b) => a - b));
    }),
  );
});

test('the area of a region is the sum of its peaks, and with drop lines that of the whole stretch', () => {
  fc.assert(
    fc.property(group, ({ trace, candidates, baseline, options }) => {
      const plan = planIntegration(trace, candidates, baseline, options);
      const { peaks, regions } = integrate(trace, plan);
      const area = new Map(peaks.map((p) => [p.id, p.area]));
      for (const region of regions) {
        const parts = region.peaks.map((id) => area.get(id)!);
        const size = parts.reduce((sum, a) => sum + Math.abs(a), 0);
        const sum = parts.reduce((total, a) => total + a, 0);
        expect(Math.abs(region.area - sum)).toBeLessThanOrEqual(1e-12 * size);
        if (options.divider === 'drop line') {
          const whole = areaBetween(trace, baseline, region.start, region.end);
          // Of the whole signal that was added and taken off again.
          expect(Math.abs(region.area - whole)).toBeLessThanOrEqual(
            1e-12 * (size + 60 * 15 * (region.end - region.start)),
          );
        }
      }
    }),
  );
});

test('every limit has its decision, at the limit itself', () => {
  fc.assert(
    fc.property(group, ({ trace, candidates, baseline, options }) => {
      const plan = planIntegration(trace, candidates, baseline, options);
      for (const peak of [...plan.regions.flatMap((r) => r.peaks), ...(plan.apart ?? [])]) {
        expect(peak.decisions.map((d) => d.about).sort()).toEqual(['end', 'peak', 'start']);
        for (const about of ['start', 'end'] as const) {
          const decision = peak.decisions.find((d) => d.about === about)!;
          expect(decision.at).toBe(peak[about]);
          expect(decision.rule).not.toBe('');
          expect(decision.text.length).toBeGreaterThan(20);
        }
      }
    }),
  );
});

test('the order in which candidates are given makes no difference', () => {
  fc.assert(
    fc.property(group, ({ trace, candidates, baseline, options }) => {
      expect(planIntegration(trace, [...candidates].reverse(), baseline, options)).toEqual(
        planIntegration(trace, candidates, baseline, options),
      );
    }),
  );
});

test('a plan survives JSON and gives the same bits afterwards', () => {
  fc.assert(
    fc.property(group, ({ trace, candidates, baseline, options }) => {
      const plan = planIntegration(trace, candidates, baseline, options);
      const revived = JSON.parse(JSON.stringify(plan)) as typeof plan;
      expect(revived).toEqual(plan);
      expect(integrate(trace, revived)).toEqual(integrate(trace, plan));
    }),
  );
});

test('area is continuous in each limit, and its slope there is the height above the baseline', () => {
  fc.assert(
    fc.property(group, unit, unit, ({ trace, baseline }, a, b) => {
      const { time, signal } = trace;
      const [low, high] = [Math.min(a, b), Math.max(a, b)].map((x) => 0.1 + 9.8 * x) as [number, number];
      const area = (from: number, to: number): number =>
        integrate(trace, planOf([plannedPeak('p', from, to)], baseline)).peaks[0]!.area;
      fc.pre(high - low > 0.05);
      const i = time.findIndex((t) => t > high);
      const [t0, t1] = [time[i - 1]!, time[i]!];
      // Between two samples and away from a knot the area is a parabola in its limit: central differences are exact.
      const h = 0.25 * (t1 - t0);
      const middle = t0 + 0.5 * (t1 - t0);
      fc.pre(middle - h > low && !baseline.time.some((t) => t > t0 && t < t1));
      const level = (t: number): number => {
        const k = baseline.time.findIndex((knot) => knot > t);
        const [x0, x1] = [baseline.time[k - 1]!, baseline.time[k]!];
        const [y0, y1] = [baseline.value[k - 1]!, baseline.value[k]!];
        return y0 + ((y1 - y0) * (t - x0)) / (x1 - x0);
      };
      const height = 0.5 * (signal[i - 1]! + signal[i]!) - level(middle);
      const scale = 60 * 2000;
      expect(Math.abs((area(low, middle + h) - area(low, middle - h)) / (2 * h) - 60 * height)).toBeLessThan(
        1e-9 * scale,
      );
      const start = area(middle - h, 10) - area(middle + h, 10);
      expect(Math.abs(start / (2 * h) - 60 * height)).toBeLessThan(1e-9 * scale);
      // Across a sample there is no jump: a step of 1e-9 min moves at most that times the height.
      expect(Math.abs(area(low, t1 + 1e-9) - area(low, t1 - 1e-9))).toBeLessThan(60 * 3e-9 * 2000);
    }),
    { numRuns: 300 },
  );
});

test('areas on two sides of any cut add up to the area without it', () => {
  fc.assert(
    fc.property(group, unit, unit, unit, ({ trace, baseline }, a, b, c) => {
      const [x, y, z] = [a, b, c].sort((p, q) => p - q).map((t) => 9.9 * t) as [number, number, number];
      const whole = areaBetween(trace, baseline, x, z);
      const parts = areaBetween(trace, baseline, x, y) + areaBetween(trace, baseline, y, z);
      expect(Math.abs(whole - parts)).toBeLessThan(1e-12 * 60 * 2000 * 10);
    }),
    { numRuns: 300 },
  );
});

test('whatever rides, the peaks of a region add up to what drop lines make of it, and riders lie within what carries them', () => {
  const skim = fc.constantFrom('tangent skim' as const, 'exponential skim' as const, 'policy' as const);
  fc.assert(
    fc.property(group, skim, ({ trace, candidates, baseline, options }, divider) => {
      const dropped = integrate(
        trace,
        planIntegration(trace, candidates, baseline, { ...options, divider: 'drop line' }),
      );
      const plan = planIntegration(trace, candidates, baseline, { ...options, divider });
      expect(JSON.parse(JSON.stringify(plan))).toEqual(plan);
      const { peaks, regions } = integrate(trace, plan);
      expect(regions.map((r) => r.peaks)).toEqual(dropped.regions.map((r) => r.peaks));
      regions.forEach((region, i) => {
        const own = peaks.filter(({ id }) => region.peaks.includes(id));
        const scale = own.reduce((sum, p) => sum + Math.abs(p.area), Math.abs(region.area));
        expect(Math.abs(region.area - dropped.regions[i]!.area)).toBeLessThan(1e-9 * scale);
        expect(Math.abs(region.area - own.reduce((sum, p) => sum + p.area, 0))).toBeLessThan(1e-9 * scale);
      });
      // Divided by drop lines after all, everything is as it was: a skim can be undone.
      const undone = applyRules(trace, plan, [{ kind: 'divide by', from: -1, to: 11, divider: 'drop line' }]);
      const again = integrate(trace, undone).peaks;
      expect(again.map(({ id, start, end }) => [id, start, end])).toEqual(
        dropped.peaks.map(({ id, start, end }) => [id, start, end]),
      );
      for (const planned of plan.regions.flatMap((r) => r.peaks)) {
        expect(planned).not.toHaveProperty('divider');
        if (planned.rides === undefined) continue;
        const carrier = plan.regions.flatMap((r) => r.peaks).find(({ id }) => id === planned.rides)!;
        expect(planned.start).toBeGreaterThanOrEqual(carrier.start);
        expect(planned.end).toBeLessThanOrEqual(carrier.end);
      }
    }),
    { numRuns: 300 },
  );
});
