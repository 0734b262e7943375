import { describe, expect, test } from 'vitest';
import { createWorkspace, type Trace } from '../../../src/index.js';
import {
  bridgeSpikes,
  buildPyramid,
  layDecisionGrid,
  scanNoise,
  type DecisionGrid,
  type Spike,
} from '../../../src/signal/index.js';
import { repeatableNormals, traceAt } from '../../support/traces.js';

const time = Array.from({ length: 3_000 }, (_, i) => i / 300);

function bridged(trace: Trace): { grid: DecisionGrid; spikes: readonly Spike[] } {
  const workspace = createWorkspace();
  const grid = layDecisionGrid(trace, workspace);
  return bridgeSpikes(grid, scanNoise(buildPyramid(grid, workspace), workspace), workspace);
}

/** White noise of standard deviation 1 on a drift, with something added. */
function noisy(seed: number, add: (i: number) => number): Trace {
  const normal = repeatableNormals(seed);
  return traceAt(time, (i) => 0.01 * i + normal() + add(i));
}

const gaussian = (i: number, at: number, sigma: number): number => Math.exp(-0.5 * ((i - at) / sigma) ** 2);

describe('spikes', () => {
  test.each([
    [[80], 1],
    [[-80], 1],
    [[80, 60], 2],
    [[50, 80, 40], 3],
    [[-50, -90, -70], 3],
  ])('of readings %j off the run are found, %d points wide, of either sign', (offs, points) => {
    for (let seed = 1; seed <= 10; seed++) {
      const trace = noisy(seed, (i) => offs[i - 1500] ?? 0);
      const { spikes } = bridged(trace);
      expect(spikes).toHaveLength(1);
      const [spike] = spikes;
      expect(spike!.points).toBe(points);
      expect(spike!.start).toBeCloseTo(time[1499]!, 9);
      expect(spike!.end).toBeCloseTo(time[1500 + points]!, 9);
      // The line beneath is uncertain by the noise of the points beside it.
      const extreme = offs.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a));
      expect(Math.abs(spike!.height - extreme)).toBeLessThan(6);
      expect(spike!.at).toBeCloseTo(time[1500 + offs.indexOf(extreme)]!, 9);
    }
  });

  test('are bridged straight, and every other reading stays to the bit', () => {
    const trace = noisy(3, (i) => (i === 700 || i === 701 ? 90 : i === 2000 ? -70 : 0));
    const before = trace.signal.slice();
    const { grid, spikes } = bridged(trace);
    expect(spikes.map((s) => s.points)).toEqual([2, 1]);
    expect(trace.signal).toEqual(before);
    for (let i = 0; i < time.length; i++) {
      if (i !== 700 && i !== 701 && i !== 2000) expect(grid.values[i]).toBe(before[i]);
    }
    const [a, b] = [before[699]!, before[702]!];
    expect(grid.values[700]).toBeCloseTo(a + (b - a) / 3, 12);
    expect(grid.values[701]).toBeCloseTo(a + (2 * (b - a)) / 3, 12);
    expect(grid.values[2000]).toBeCloseTo((before[1999]! + before[2001]!) / 2, 12);
  });

  test('are not seen in a peak, however narrow it is from a sigma of two samples on', () => {
    for (const sigma of [2, 2.5, 3, 5]) {
      for (const height of [30, 300, 3e4, -500]) {
        for (const phase of [0, 0.25, 0.5]) {
          const trace = noisy(8, (i) => height * gaussian(i, 1500 + phase, sigma));
          expect(bridged(trace).spikes, `sigma ${sigma}, height ${height}, phase ${phase}`).toEqual([]);
        }
      }
    }
  });

  test('are not seen in noise, in a step or where there is nothing', () => {
    for (let seed = 1; seed <= 20; seed++) expect(bridged(noisy(seed, () => 0)).spikes).toEqual([]);
    expect(bridged(noisy(1, (i) => (i > 1000 ? 100 : 0))).spikes).toEqual([]);
    const untouched = noisy(2, () => 0);
    expect(bridged(untouched).grid.values).toBe(untouched.signal);
  });

  test('on the flank of a broad peak are found too', () => {
    const trace = noisy(4, (i) => 200 * gaussian(i, 1500, 60) + (i === 1450 ? 150 : 0));
    const { spikes } = bridged(trace);
    expect(spikes).toHaveLength(1);
    expect(spikes[0]!.at).toBeCloseTo(time[1450]!, 9);
  });
});
