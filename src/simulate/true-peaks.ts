import { defined } from '../core/index.js';
import { resolutionHalfHeight, resolutionTangent } from '../measures/index.js';
import { firstAtOrAfter, rangeAboutLine } from '../numeric/index.js';
import type { DisturbanceSignal } from './disturbance-signal.js';
import type { PeakCurve } from './peak-curve.js';
import type { PeakRecipe } from './peak-recipe.js';
import { findPlateaus } from './plateaus.js';
import { measureSingle } from './single-peak.js';
import type { TruePeak } from './truth.js';
import { findVisible } from './visible-peaks.js';

/** A record as far as the truth about its peaks depends on it. */
export interface MadeRecord {
  readonly time: Float64Array;
  readonly clean: Float64Array;
  readonly noise: Float64Array;
  readonly disturbances: readonly DisturbanceSignal[];
  /** [signal unit] Infinity when there is none. */
  readonly ceiling: number;
  /** [signal unit] 0 when there is none. */
  readonly step: number;
}

/** [-] Share of its height below which others leave a peak isolated, and places between its 5 % points looked at. */
const isolatedShare = 0.01;
const places = 80;

/** The truth about the peaks of a record, in order of time. */
export function truePeaks(recipes: readonly PeakRecipe[], curves: readonly PeakCurve[], made: MadeRecord): TruePeak[] {
  const { time, clean, noise, disturbances, ceiling, step } = made;
  const first = time[0]!;
  const last = time.at(-1)!;
  const singles = curves.map(measureSingle);
  const swings = disturbances.filter(({ truth: { kind } }) => kind === 'void' || kind === 'bump');
  const passing = disturbances.filter(({ truth: { kind } }) => kind !== 'step');
  const visible = findVisible(
    curves,
    singles.map(({ widths }) => widths.halfHeight),
    (t) => Math.min(sumAt(curves, t) + sumAt(swings, t), ceiling),
    first,
    last,
  );
  const plateaus = findPlateaus(time, clean, ceiling);
  const order = curves.map((_, i) => i).sort((a, b) => curves[a]!.position - curves[b]!.position);
  return order.map((i, rank) => {
    const curve = curves[i]!;
    const single = singles[i]!;
    const { name, shape, sigma, tau = 0 } = recipes[i]!;
    const { position, height } = curve;
    const { start, end, widths } = single;
    const isCut = start < first || end > last;
    const plateau = plateaus.find(({ from, to }) => position >= from && position <= to);
    const owns =
      plateau !== undefined &&
      !curves.some((o) => o.position >= plateau.from && o.position <= plateau.to && o.height > height);
    const others = curves.filter((o) => o !== curve);
    let most = 0;
    for (let k = 0; k <= places; k++) {
      const t = start + ((end - start) * k) / places;
      most = Math.max(most, Math.abs(sumAt(others, t) + sumAt(passing, t)));
    }
    const before = order[rank - 1];
    return defined({
      name,
      shape,
      retentionTime: position,
      height,
      area: curve.area,
      areaInRecord: curve.areaBefore(last) - curve.areaBefore(first) - (owns ? plateau.excess : 0),
      sigma,
      tau,
      ...single,
      resolution:
        before === undefined ? undefined : resolutionBetween(curves[before]!, singles[before]!, curve, single),
      isVisible: plateau === undefined ? visible[i]! : owns,
      isIsolated: most < isolatedShare * Math.abs(height) && !isCut && plateau === undefined,
      isCut,
      isSaturated: plateau !== undefined,
      signalToNoise: signalToNoise(time, noise, step, curve, widths.halfHeight),
    });
  });
}

type Single = ReturnType<typeof measureSingle>;

function resolutionBetween(a: PeakCurve, { widths: wa }: Single, b: PeakCurve, { widths: wb }: Single) {
  return {
    halfHeight: resolutionHalfHeight(a.position, b.position, wa.halfHeight, wb.halfHeight),
    tangent: resolutionTangent(a.position, b.position, wa.tangent, wb.tangent),
  };
}

function sumAt(parts: readonly Pick<PeakCurve, 'from' | 'to' | 'value'>[], t: number): number {
  let sum = 0;
  for (const { from, to, value } of parts) if (t >= from && t <= to) sum += value(t);
  return sum;
}

/** [-] Half the length of the noise window in half widths, and the fewest samples in it. */
const windowHalf = 10;
const fewestPoints = 8;

function signalToNoise(
  time: Float64Array,
  noise: Float64Array,
  step: number,
  { position, height }: PeakCurve,
  halfWidth: number,
): number | undefined {
  // prettier-ignore
  const near = Math.min(Math.max(position, time[0]!), time.at(-1)!);
  const from = Math.min(firstAtOrAfter(time, near - windowHalf * halfWidth), Math.max(time.length - fewestPoints, 0));
  const after = Math.max(firstAtOrAfter(time, near + windowHalf * halfWidth), Math.min(from + fewestPoints, time.length)); // prettier-ignore
  const h = Math.max(rangeAboutLine(time, noise, [[from, after]]), step);
  return h > 0 ? (2 * Math.abs(height)) / h : undefined;
}
