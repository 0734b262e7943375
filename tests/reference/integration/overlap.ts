import { integrate, planIntegration, type IntegratedPeak, type PlanOptions } from '../../../src/index.js';
import { emg } from '../measures/reference-peaks.js';
import { candidate, straight } from '../../support/plans.js';
import { traceAt } from '../../support/traces.js';

/** Two shapes of sigma 1 on a baseline of zero: where their apexes and ends are. */
export interface Pair {
  readonly shape: (t: number) => number;
  readonly apexes: readonly [number, number];
  readonly heights: readonly [number, number];
  readonly from: number;
  readonly to: number;
}

/** Samples per sigma, so many that the table and not the sampling decides. */
const perSigma = 100;

const phi = (x: number): number => Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);

/** Gaussians of areas 1 and `ratio` at 0 and four times the resolution, from 9 sigma before to 9 sigma after. */
export function gaussianPair(ratio: number, resolution: number, margin = 9): Pair {
  const distance = 4 * resolution;
  return {
    shape: (t) => phi(t) + ratio * phi(t - distance),
    apexes: [0, distance],
    heights: [phi(0), ratio * phi(0)],
    from: -margin,
    to: distance + margin,
  };
}

/** Exponentially modified Gaussians of the given areas, their Gaussian parts at 0 and `distance`. */
export function emgPair(tau: number, distance: number, first: number, second: number): Pair {
  const shape = (t: number): number => first * emg(t, 0, 1, tau) + second * emg(t, distance, 1, tau);
  // The apex of one alone, by thirds.
  let low = 0;
  let high = tau + 1;
  while (high - low > 1e-9) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
    if (emg(a, 0, 1, tau) < emg(b, 0, 1, tau)) low = a;
    else high = b;
  }
  const height = emg(low, 0, 1, tau);
  return {
    shape,
    apexes: [low, low + distance],
    heights: [first * height, second * height],
    from: -9,
    to: distance + 9 + 25 * tau,
  };
}

/** The pair as the library divides it. */
export function divided(pair: Pair, options: PlanOptions = {}): [IntegratedPeak, IntegratedPeak] {
  const { shape, apexes, heights, from, to } = pair;
  const count = Math.round((to - from) * perSigma) + 1;
  const time = Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
  const trace = traceAt(time, (i) => shape(time[i]!));
  const candidates = [
    candidate(apexes[0], 1, { height: heights[0], from, to: apexes[1], toKind: 'neighbour' }),
    candidate(apexes[1], 1, { height: heights[1], from: apexes[0], to, fromKind: 'neighbour' }),
  ];
  const { peaks } = integrate(trace, planIntegration(trace, candidates, straight(from, to), options));
  if (peaks.length !== 2) throw new Error(`two peaks were expected, ${peaks.length} came back`);
  return [peaks[0]!, peaks[1]!];
}

/** [%] Difference from the true area, in sigma times the unit of height; areas are in seconds. */
export const percentOff = (area: number, exact: number): number => 100 * (area / 60 / exact - 1);
