import type { Baseline } from '../baseline/index.js';
import { drawCurve, type FittedCurve, type PlannedRegion } from '../integration/index.js';
import { measurePeak, type PeakMeasures } from '../measures/index.js';
import { threePoints } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';

/** [-] Share of its height to which neighbours may reach between the 5 % points of a peak that is measured on the trace: there it moves the 5 % level by a sixteenth. */
const mostCovered = 0.003;
/** [-] Share of the height down to which a curve is drawn, and the number of places. */
const drawnTo = 0.002;
const places = 256;
/** [-] Spans of the local fits: a curve has no noise that a long span would have to still. */
const spans = { crossingSpan: 0.2, tangentSpan: 0.2 };
const level: Baseline = { id: 'curve', kind: 'straight', time: [0], value: [0] };

/** Measures that were taken on a fitted curve. */
export interface CurveMeasures extends PeakMeasures {
  /** [min] Apex of the curve. */
  readonly apex: number;
}

/**
 * Measures of a peak on the curve that was fitted to it, where its neighbours
 * cover it: where their curves rise above three thousandths of its height between its 5 %
 * points.
 *
 * @returns Nothing when the peak can be measured on the trace, or has no curve of its own.
 */
export function measureOnCurve(trace: Trace, region: PlannedRegion, id: string): CurveMeasures | undefined {
  const curve = region.curves?.find(({ peak }) => peak === id);
  if (curve === undefined || region.curves!.length < 2) return undefined;
  const reach = (region.end - region.start) / 2;
  const coarse = drawnBetween(curve, region.start - reach, region.end + reach);
  if (coarse === undefined) return undefined;
  const fine = drawnBetween(curve, coarse.start, coarse.end);
  if (fine === undefined) return undefined;
  const { apex, height, time, value, sign } = fine;
  const shape = { retentionTime: apex, height: sign * height, start: time[0]!, end: time[places - 1]!, direction: sign === 1 ? 'up' : 'down' } as const; // prettier-ignore
  const measures = measurePeak({ ...trace, time, signal: value }, shape, level, spans);
  const { fivePercent } = measures.widths;
  if (fivePercent === undefined || measures.tailingFactor === undefined) return undefined;
  const from = apex - fivePercent / (2 * measures.tailingFactor);
  const across = time.map((_, i) => from + (fivePercent * i) / (places - 1));
  const others = new Float64Array(places);
  for (const other of region.curves!) {
    if (other !== curve) drawCurve(other, across).forEach((y, i) => (others[i]! += y));
  }
  if (!others.some((y) => Math.abs(y) > mostCovered * height)) return undefined;
  return { ...measures, apex };
}

interface Drawn {
  readonly time: Float64Array;
  readonly value: Float64Array;
  readonly sign: 1 | -1;
  /** [min] Apex and where the curve has fallen to nothing. */
  readonly apex: number;
  readonly start: number;
  readonly end: number;
  /** [signal unit] Above 0. */
  readonly height: number;
}

function drawnBetween(curve: FittedCurve, from: number, to: number): Drawn | undefined {
  const time = Float64Array.from({ length: places }, (_, i) => from + ((to - from) * i) / (places - 1));
  const value = drawCurve(curve, time);
  const sign = curve.parameters[0]! < 0 ? -1 : 1;
  const up = value.map((y) => sign * y);
  let top = 0;
  for (let i = 0; i < places; i++) if (up[i]! > up[top]!) top = i;
  if (!(up[top]! > 0) || top === 0 || top === places - 1) return undefined;
  let first = top;
  let last = top;
  while (first > 0 && up[first]! > drawnTo * up[top]!) first--;
  while (last < places - 1 && up[last]! > drawnTo * up[top]!) last++;
  const { time: apex, height } = threePoints(time, up, top);
  return { time, value, sign, apex, height, start: time[first]!, end: time[last]! };
}
