import { describe, expect, test } from 'vitest';
import { analyse, createTrace, createWorkspace, simulateTrace, type Trace, type TraceRecipe } from '../../src/index.js';
import { repeatableNumbers } from '../support/traces.js';

const runs = 100;
const workspace = createWorkspace();

const recipes: Readonly<Record<string, Partial<TraceRecipe>>> = {
  'white noise': { noise: { white: 0.1 } },
  'white noise on a steep drift': { noise: { white: 0.1 }, baseline: { offset: -50, drift: 120 } },
  'noise correlated over 1 s': { noise: { correlated: { standardDeviation: 0.1, timeConstant: 1 } } },
  'noise correlated over 5 s': { noise: { correlated: { standardDeviation: 0.1, timeConstant: 5 } } },
  'white noise and wander over a minute': {
    noise: { white: 0.1, correlated: { standardDeviation: 0.1, timeConstant: 60 } },
  },
  'quantised white noise': { noise: { white: 0.1 }, step: 0.1 },
  'coarsely quantised white noise': { noise: { white: 0.1 }, step: 0.5, baseline: { drift: 2 } },
};

/** [-] False peaks allowed in a hundred blanks of ten minutes: white noise, quantised or drifting; and noise that looks like peaks. */
const allowed = 1;
const allowedCorrelated = 5;

function falsePeaks(recipe: Partial<TraceRecipe>, change?: (trace: Trace, seed: number) => Trace): string[] {
  const list: string[] = [];
  for (let seed = 1; seed <= runs; seed++) {
    const { trace } = simulateTrace({ duration: 10, interval: 0.4, seed, ...recipe });
    for (const p of analyse(change?.(trace, seed) ?? trace, {}, workspace).peaks) {
      list.push(`seed ${seed}: ${p.retentionTime.toFixed(2)} min`);
    }
  }
  return list;
}

describe('a hundred blanks hold at most one false peak, or five when the noise is correlated', () => {
  test.each(Object.entries(recipes))('of %s', (_, recipe) => {
    expect(falsePeaks(recipe).length).toBeLessThanOrEqual(recipe.noise?.correlated ? allowedCorrelated : allowed);
  });

  test('of white noise sampled unevenly', () => {
    const thinned = (trace: Trace, seed: number): Trace => {
      const random = repeatableNumbers(seed);
      return pick(trace, (i) => i === 0 || random() > 1 / 3);
    };
    expect(falsePeaks({ noise: { white: 0.1 } }, thinned).length).toBeLessThanOrEqual(allowed);
  });

  test('of white noise at two sampling rates', () => {
    const slower = (trace: Trace): Trace => pick(trace, (i) => i < 750 || i % 4 === 0);
    expect(falsePeaks({ noise: { white: 0.1 } }, slower).length).toBeLessThanOrEqual(allowed);
  });
});

/** Some of the samples. */
function pick(trace: Trace, keep: (i: number) => boolean): Trace {
  const kept = Array.from(trace.time.keys()).filter(keep);
  return createTrace({
    time: kept.map((i) => trace.time[i]!),
    signal: kept.map((i) => trace.signal[i]!),
    timeUnit: 'min',
    signalUnit: 'mAU',
    injectedAt: 0,
  });
}
