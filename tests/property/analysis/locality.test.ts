import { describe, test } from 'vitest';
import { analyse, createTrace, simulateTrace, type Trace, type TraceRecipe } from '../../../src/index.js';
import { expectLocal, peakAt } from '../../support/locality.js';
import { vanillaRun } from '../../support/runs.js';

const seeds = [1, 2, 3, 4, 5, 6, 7, 8];

describe('the area of a peak depends on its neighbourhood alone', () => {
  test.each(seeds)('not on a peak a hundred times larger twenty widths away (seed %d)', (seed) => {
    const sigma = 0.05;
    const width = 2.355 * sigma;
    const recipe = (height: number): TraceRecipe => ({
      duration: 12,
      interval: 0.2,
      baseline: { offset: 3, drift: 6 },
      noise: { white: 0.05 },
      seed,
      peaks: [
        { shape: 'gaussian', retentionTime: 4, height: 10, sigma },
        { shape: 'gaussian', retentionTime: 4 + 20 * width, height, sigma },
        { shape: 'gaussian', retentionTime: 10, height: 10, sigma },
      ],
    });
    const run = (height: number): Trace => simulateTrace(recipe(height)).trace;
    const small = analyse(run(10)).peaks;
    const large = analyse(run(1000)).peaks;
    expectLocal(peakAt(large, 4), peakAt(small, 4));
    expectLocal(peakAt(large, 10), peakAt(small, 10));
  });

  test.each(seeds)('not on samples that are missing elsewhere (seed %d)', (seed) => {
    const trace = vanillaRun(seed);
    const keep = Array.from(trace.time, (t, i) => ({ t, y: trace.signal[i]! })).filter(({ t }) => t < 10.5 || t > 11);
    const gappy = createTrace({
      time: keep.map((k) => k.t),
      signal: keep.map((k) => k.y),
      timeUnit: 'min',
      signalUnit: 'mAU',
      injectedAt: 0,
    });
    const [whole, part] = [analyse(trace).peaks, analyse(gappy).peaks];
    for (const time of [3, 4.6, 6.5, 6.75]) expectLocal(peakAt(part, time), peakAt(whole, time));
  });
});
