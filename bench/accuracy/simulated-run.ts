import { simulateTrace, type TraceRecipe, type TruePeak as SimulatedPeak } from '../../src/index.js';
import type { Run, TruePeak } from './make-run.js';

/** A run made by the library's own simulation, in the form in which runs are judged. */
export function makeSimulatedRun(recipe: TraceRecipe, family: string, seed: number): Run {
  const { trace, truth } = simulateTrace({ ...recipe, seed });
  const { time, signal, signalUnit } = trace;
  const ceiling = recipe.saturation?.level ?? Infinity;
  const { white = 0, correlated } = recipe.noise ?? {};
  return {
    family,
    seed,
    time,
    signal,
    signalUnit,
    truth: {
      peaks: truth.peaks.map((peak) => judgedPeak(peak, time)),
      disturbances: truth.disturbances.map(({ kind, time: at, start: from, end: to }) => ({ kind, at, from, to })),
      noiseFree: truth.clean.map((y) => Math.min(y, ceiling)),
      noiseOnly: truth.noise,
      noise: Math.hypot(white, correlated?.standardDeviation ?? 0),
      ...(recipe.noise?.wander === undefined && recipe.noise?.ripple === undefined
        ? { noiseDensity: noiseDensity(recipe) }
        : {}),
    },
  };
}

/** [unit² min] */
function noiseDensity({ interval, noise: { white = 0, correlated } = {}, step = 0 }: TraceRecipe): number {
  const kept = correlated === undefined ? 0 : Math.exp(-interval / correlated.timeConstant);
  const slow = ((correlated?.standardDeviation ?? 0) ** 2 * (1 + kept)) / (1 - kept);
  return ((white * white + slow + (step * step) / 12) * interval) / 60;
}

function judgedPeak(peak: SimulatedPeak, time: Float64Array): TruePeak {
  const { retentionTime: apex, height, area, areaInRecord, start, end, widths, shape } = peak;
  const sigma = widths.halfHeight / 2.3548200450309493;
  const near = Math.min(Math.max(apex, time[0]!), time.at(-1)!);
  let i = time.findIndex((t) => t >= near);
  i = Math.min(Math.max(i, 3), time.length - 4);
  const reach = Math.max(sigma / 2, (2 * (time[i + 3]! - time[i - 3]!)) / 6) * (1 + 1e-9);
  return {
    apex,
    height,
    area,
    areaInside: areaInRecord,
    start,
    end,
    sigma,
    snr: peak.signalToNoise ?? Infinity,
    visible: peak.isVisible,
    isolated: peak.isIsolated,
    cut: peak.isCut,
    clipped: peak.isSaturated,
    matchFrom: near - reach,
    matchTo: near + reach,
    shape,
  };
}
