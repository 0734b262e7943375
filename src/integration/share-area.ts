import type { Baseline } from '../baseline/index.js';
import { firstAtOrAfter, polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { curveRules } from './curve-kinds.js';
import type { PlannedRegion } from './plan.js';

/** What a peak gets of a region. */
export interface Share {
  /** [signal unit s] Its part of the area between signal and baseline. */
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
 * has of the sum of the curves, so that nothing is lost and what no curve follows
 * is divided like the rest.
 *
 * @returns One for each peak of the region, in its order.
 */
export function shareArea(trace: Trace, baseline: Baseline, region: PlannedRegion): Share[] {
  const curves = region.curves!;
  const first = firstAtOrAfter(trace.time, region.start);
  const after = firstAtOrAfter(trace.time, region.end);
  const count = after - first + 2;
  const time = new Float64Array(count);
  time[0] = region.start;
  time.set(trace.time.subarray(first, after), 1);
  time[count - 1] = region.end;
  const signal = { time: trace.time, value: trace.signal };
  const parts = curves.map(({ kind, parameters }) => {
    const out = new Float64Array(count);
    curveRules[kind].family.evaluate(time, 0, count, parameters, 0, out);
    return out;
  });
  const areas = curves.map(() => 0);
  let before = 0;
  for (let k = 0; k < count; k++) {
    const inner = k > 0 && k < count - 1;
    const y = (inner ? trace.signal[first + k - 1]! : polylineAt(signal, time[k]!)) - polylineAt(baseline, time[k]!);
    let sum = 0;
    for (const part of parts) sum += Math.abs(part[k]!);
    const left = k === 0 ? 0 : time[k]! - time[k - 1]!;
    const right = k === count - 1 ? 0 : time[k + 1]! - time[k]!;
    const width = (left + right) / 2;
    for (let c = 0; c < parts.length; c++) {
      const share = sum > 0 ? Math.abs(parts[c]![k]!) / sum : c === before ? 1 : 0;
      if (share > 0.5) before = c;
      areas[c]! += 60 * width * y * share;
    }
  }
  return region.peaks.map(({ id, apex }) => {
    const c = curves.findIndex(({ peak }) => peak === id);
    const { kind, parameters, areaUncertainty: deviation } = curves[c]!;
    let own = 0;
    let sum = 0;
    curves.forEach((other, k) => {
      const value = new Float64Array(1);
      curveRules[other.kind].family.evaluate([apex], 0, 1, other.parameters, 0, value);
      sum += Math.abs(value[0]!);
      if (k === c) own = Math.abs(value[0]!);
    });
    return {
      area: areas[c]!,
      fitted: 60 * curveRules[kind].family.area(parameters, 0),
      deviation,
      atApex: sum > 0 ? own / sum : 1,
    };
  });
}
