import type { Baseline } from '../baseline/index.js';
import { firstAtOrAfter, polylineAt } from '../numeric/index.js';
import { curveRules } from './curve-kinds.js';
import type { FittedCurve, PlannedRegion } from './plan.js';

interface Sampled {
  readonly time: Float64Array;
  readonly value: Float64Array;
}

/** What a peak gets of a region. */
export interface Share {
  /** [signal unit s] Its part of the area. */
  readonly area: number;
  /** [signal unit s] Area of its curve. */
  readonly fitted: number;
  /** [signal unit s] One standard uncertainty of that area, when known. */
  readonly deviation: number | undefined;
  /** [-] Its part of the signal at its apex. */
  readonly atApex: number;
}

/**
 * Divides a region between its peaks: at every sample each gets what its curve
 * has of the sum of the curves, so that what no curve follows is divided like the rest.
 *
 * Where the curves stand high above the noise, the signal is what is divided. Where
 * they are lost in it, far out on the flanks, the curves are: they were fitted to all
 * samples, and know more of the flank than the few that are there. With S the sum
 * of the curves and n the noise of the region, the signal weighs S²/(S² + n²), as in
 * a Wiener filter. What the curves hold outside the region comes on top, unless the
 * record cuts the peak off. Without a noise the signal alone counts.
 *
 * @param signal - The signal as it is to be integrated, spikes taken off.
 *
 * @returns One for each peak of the region, in its order.
 */
export function shareArea(signal: Sampled, baseline: Baseline, region: PlannedRegion): Share[] {
  const curves = region.curves!;
  const { time, above } = samplesAbove(signal, baseline, region);
  const parts = curves.map((curve) => valuesOf(curve, time));
  const areas = curves.map(() => 0);
  const inside = curves.map(() => 0);
  const noise = region.curveNoise ?? 0;
  let before = 0;
  for (let k = 0; k < time.length; k++) {
    let size = 0;
    let sum = 0;
    for (const part of parts) {
      sum += part[k]!;
      size += Math.abs(part[k]!);
    }
    const weight = noise > 0 ? (size * size) / (size * size + noise * noise) : 1;
    const value = sum + weight * (above[k]! - sum);
    const left = k === 0 ? 0 : time[k]! - time[k - 1]!;
    const right = k === time.length - 1 ? 0 : time[k + 1]! - time[k]!;
    const width = (left + right) / 2;
    for (let c = 0; c < parts.length; c++) {
      const share = size > 0 ? Math.abs(parts[c]![k]!) / size : c === before ? 1 : 0;
      if (share > 0.5) before = c;
      areas[c]! += 60 * width * value * share;
      inside[c]! += 60 * width * parts[c]![k]!;
    }
  }
  const isCut = region.peaks[0]!.startKind === 'cut off' || region.peaks.at(-1)!.endKind === 'cut off';
  return region.peaks.map(({ id, apex }) => {
    const c = curves.findIndex(({ peak }) => peak === id);
    const { kind, parameters, areaUncertainty: deviation } = curves[c]!;
    const fitted = 60 * curveRules[kind].family.area(parameters, 0);
    const atApex = curves.map((curve) => Math.abs(valuesOf(curve, Float64Array.of(apex))[0]!));
    const sum = atApex.reduce((a, b) => a + b, 0);
    return {
      area: areas[c]! + (noise > 0 && !isCut ? fitted - inside[c]! : 0),
      fitted,
      deviation,
      atApex: sum > 0 ? atApex[c]! / sum : 1,
    };
  });
}

/** Samples of a region, its limits among them, above the baseline. */
function samplesAbove(
  signal: Sampled,
  baseline: Baseline,
  { start, end }: PlannedRegion,
): { readonly time: Float64Array; readonly above: Float64Array } {
  const first = firstAtOrAfter(signal.time, start);
  const after = firstAtOrAfter(signal.time, end);
  const time = new Float64Array(after - first + 2);
  time[0] = start;
  time.set(signal.time.subarray(first, after), 1);
  time[time.length - 1] = end;
  const above = time.map((t, k) => {
    const inner = k > 0 && k < time.length - 1;
    return (inner ? signal.value[first + k - 1]! : polylineAt(signal, t)) - polylineAt(baseline, t);
  });
  return { time, above };
}

function valuesOf({ kind, parameters }: FittedCurve, time: Float64Array): Float64Array {
  const out = new Float64Array(time.length);
  curveRules[kind].family.evaluate(time, 0, time.length, parameters, 0, out);
  return out;
}
