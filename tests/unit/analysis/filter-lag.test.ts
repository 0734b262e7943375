import { describe, expect, test } from 'vitest';
import { analyse, createTrace, simulateTrace, type TraceRecipe } from '../../../src/index.js';

const recipe = (more: Partial<TraceRecipe>): TraceRecipe => ({
  duration: 10,
  interval: 0.2,
  noise: { white: 0.005 },
  peaks: [{ shape: 'gaussian', retentionTime: 5, height: 100, sigma: 0.05 }],
  seed: 1,
  ...more,
});
const lags = (recipe_: TraceRecipe, responseTime?: number): string[] => {
  const { time, signal } = simulateTrace(recipe_).trace;
  const meta = responseTime === undefined ? {} : { responseTime };
  const trace = createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU', injectedAt: 0, meta });
  return analyse(trace).peaks.flatMap(({ warnings }) =>
    warnings.filter(({ code }) => code === 'filter-lag').map(({ message }) => message),
  );
};

describe('The lag of a filter', () => {
  test('is told for a peak as the share of the time constant in its variance', () => {
    // E. Grushka, Anal. Chem. 44 (1972) 1733-1738, from memory: behind a filter of 3 s a Gaussian of 3 s is an
    // exponentially modified one, its mean later by 3 s and its variance 9 + 9 s², half of it of the filter.
    const behind = recipe({ peaks: [{ shape: 'emg', retentionTime: 5, height: 100, sigma: 0.05, tau: 0.05 }] });
    const [message] = lags(behind, 3);
    expect(message).toContain('The response time of the detector, 3.0 s');
    const [, sigma, share] = /\(standard deviation (.*) s\).* is (.*) % of its variance/.exec(message!)!;
    expect(Math.abs(Number(share) - 50)).toBeLessThan(2.5);
    expect(Math.abs(Number(sigma) / Math.sqrt(18) - 1)).toBeLessThan(0.05);
  });

  test('is told from a fifth of the standard deviation on, and only when it is known', () => {
    expect(lags(recipe({}), 0.7)).toHaveLength(1);
    expect(lags(recipe({}), 0.5)).toHaveLength(0);
    expect(lags(recipe({}), 0)).toHaveLength(0);
    expect(lags(recipe({}))).toHaveLength(0);
  });

  test('changes no number', () => {
    const { time, signal } = simulateTrace(recipe({})).trace;
    const stated = { time, signal, timeUnit: 'min', signalUnit: 'mAU', injectedAt: 0 };
    const [with_, without] = [{ responseTime: 3 }, {}].map((meta) => analyse(createTrace({ ...stated, meta })).peaks);
    expect(with_!.map(({ area, retentionTime, widths }) => [area, retentionTime, widths])).toStrictEqual(
      without!.map(({ area, retentionTime, widths }) => [area, retentionTime, widths]),
    );
  });

  test('is suspected where the noise is correlated as behind a filter, and says that it is the noise that tells', () => {
    const correlated = (timeConstant: number): TraceRecipe =>
      recipe({ noise: { correlated: { standardDeviation: 0.05, timeConstant } } });
    const [message] = lags(correlated(1.5));
    expect(message).toContain('The noise is correlated');
    expect(message).toContain('if the detector has it');
    const tau = Number(/filter of (.*) s, which/.exec(message!)![1]);
    expect(Math.abs(tau / 1.5 - 1)).toBeLessThan(0.25);
    expect(lags(correlated(0.1))).toHaveLength(0);
  });

  test('is not suspected where an edge within few readings shows that there is none', () => {
    const noise = { correlated: { standardDeviation: 0.05, timeConstant: 1.5 } };
    expect(lags(recipe({ noise, disturbances: [{ kind: 'spike', time: 8, height: 20 }] }))).toHaveLength(0);
  });
});
