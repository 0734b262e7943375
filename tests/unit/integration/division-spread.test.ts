import { describe, expect, test } from 'vitest';
import { analyse, divisionSpread, integrate, simulateTrace } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';

const { trace, truth } = simulateTrace({
  duration: 10,
  interval: 0.2,
  baseline: { offset: 2, drift: 6 },
  noise: { white: 0.02 },
  seed: 7,
  peaks: [
    { shape: 'emg', retentionTime: 4, height: 400, sigma: 0.06, tau: 0.1 },
    { shape: 'emg', retentionTime: 4.7, height: 20, sigma: 0.06, tau: 0.04 },
    { shape: 'gaussian', retentionTime: 8, height: 50, sigma: 0.08 },
  ],
});
const analysis = analyse(trace);
const { plan, peaks } = analysis;

describe('divisionSpread', () => {
  test('gives every divider on every baseline, with the least and the most of each peak', () => {
    const { ways, absent, spread, peaks: ids, start, end } = divisionSpread(trace, plan, peaks[1]!.id);
    expect(ids).toEqual(peaks.slice(0, 2).map(({ id }) => id));
    expect(end).toBeGreaterThan(start);
    expect(absent).toEqual([]);
    const kinds = ['drop line', 'valley to valley', 'tangent skim', 'exponential skim', 'fit'];
    expect(ways.map(({ divider, baseline }) => `${divider}, ${baseline}`)).toEqual(
      ['planned', 'run', 'straight'].flatMap((baseline) => kinds.map((kind) => `${kind}, ${baseline}`)),
    );
    spread.forEach(({ least, most }, i) => {
      const areas = ways.map((way) => way.areas[i]!);
      expect([least, most]).toEqual([Math.min(...areas), Math.max(...areas)]);
    });
    expect(JSON.parse(JSON.stringify({ ways, spread }))).toEqual({ ways, spread });
  });

  test('parts a group the same way whoever divided it first, and as the method with that divider does', () => {
    const skimmed = analyse(trace, { divider: 'tangent skim' });
    const from = (which: typeof analysis) =>
      divisionSpread(trace, which.plan, which.peaks[1]!.id, { baselines: ['run'] }).ways;
    const tangent = from(skimmed).find(({ divider }) => divider === 'tangent skim')!;
    expect(tangent.areas[1]).toBeCloseTo(skimmed.peaks[1]!.area, 8);
    from(analysis).forEach(({ areas }, i) => {
      // The outer limits of the fitted group lie a little further out.
      expect(Math.abs(areas[1]! / from(skimmed)[i]!.areas[1]! - 1)).toBeLessThan(0.02);
    });
  });

  test('holds the truth between the least and the most of a rider', () => {
    const { least, most } = divisionSpread(trace, plan, peaks[1]!.id).spread[1]!;
    const exact = truth.peaks[1]!.area;
    expect(least).toBeLessThan(exact);
    expect(most).toBeGreaterThan(exact);
  });

  test('says why what is absent is absent', () => {
    const lone = divisionSpread(trace, plan, peaks[2]!.id, { baselines: ['run'] });
    expect(lone.ways.map(({ divider }) => divider)).toEqual(['drop line', 'fit']);
    expect(lone.absent.map(({ why }) => why)).toEqual(['nothing touches', 'nothing touches', 'nothing touches']);
    const onRun = analyse(trace, { divider: 'drop line' });
    const planned = divisionSpread(trace, onRun.plan, onRun.peaks[0]!.id, { baselines: ['planned'] });
    expect(planned.ways).toEqual([]);
    expect(planned.spread).toEqual([]);
    expect(planned.absent[0]!.why).toBe('the group stands on the baseline of the run');
  });

  test('leaves the plan as it was, and refuses what it does not know', () => {
    const before = JSON.stringify(plan);
    divisionSpread(trace, plan, peaks[0]!.id);
    expect(JSON.stringify(plan)).toBe(before);
    expect(integrate(trace, plan).peaks).toHaveLength(peaks.length);
    expect(thrownBy(() => divisionSpread(trace, plan, 'nobody')).code).toBe('option-invalid');
    expect(thrownBy(() => divisionSpread(trace, plan, peaks[0]!.id, { dividers: ['knife' as 'fit'] })).code).toBe(
      'option-invalid',
    );
    expect(thrownBy(() => divisionSpread(trace, plan, peaks[0]!.id, { base: 1 } as object)).code).toBe(
      'option-unknown',
    );
  });
});
