import { timeAbove } from './level-crossing.js';
import { fitLocalPolynomial } from './local-polynomial.js';
import {
  createStretch,
  fillStretch,
  firstAtOrAfter,
  firstEntryFrom,
  lastEntryTo,
  polylineAt,
  valueAt,
  type Polyline,
  type Stretch,
} from './stretch.js';

/** The highest point of a curve. */
export interface Apex {
  /** Position. */
  readonly time: number;
  /** Height over the polyline, with the sign of the curve. */
  readonly height: number;
  /**
   * `'local fit'`: maximum of a local polynomial. `'three points'`: of the
   * parabola through the highest sample and its neighbours. `'plateau'`: middle
   * of a flat top. `'as given'`: no maximum of its own inside; the value of the
   * curve at the position asked for.
   */
  readonly method: 'local fit' | 'three points' | 'plateau' | 'as given';
  /** Points used. */
  readonly points: number;
}

/** What {@link locateApex} is told. */
export interface ApexQuestion {
  /** Where the apex is thought to be. */
  readonly approx: number;
  /** The curve is looked at from here ... */
  readonly start: number;
  /** ... to here. */
  readonly end: number;
  /** 1 for a maximum, -1 for a minimum. */
  readonly sign: 1 | -1;
  /** What to subtract from the samples. */
  readonly base?: Polyline | undefined;
  /** Standard deviation of the Gaussian of the same half-height width; estimated when absent. */
  readonly sigma?: number | undefined;
}

/** Half the span of the local fit, in standard deviations of the narrower side. */
const fitSpan = 0.8;
/** With fewer points than this inside the span, the parabola through three. */
const fewestPoints = 7;

/**
 * Highest point of a curve over a polyline, between samples, on the real axis.
 *
 * A quartic is fitted by least squares over 0.8 standard deviations on either
 * side, centred on its own maximum (three passes). On a noise-free Gaussian of
 * 10 or more samples per standard deviation the height is 0.03 % low and the
 * position exact; white noise of standard deviation s and p samples per
 * standard deviation leave about 1.4 s / sqrt(p) in the height. A quadratic
 * would have to be kept within 0.45 standard deviations for the same bias,
 * leaves 1.6 s / sqrt(p), and is drawn off the apex by tailing. With fewer
 * than seven samples in the span it is the parabola through the highest sample
 * and its neighbours. A flat top of three or more equal samples and at least
 * half a standard deviation, as a saturated detector writes, gives its middle.
 *
 * @param work - Space to reuse; holds the samples afterwards.
 */
export function locateApex(
  time: ArrayLike<number>,
  signal: ArrayLike<number>,
  question: ApexQuestion,
  work: Stretch = createStretch(),
): Apex {
  const { approx, start, end, sign, base } = question;
  let sigma = question.sigma;
  fillStretch(work, time, signal, base, start, end, sign);
  if (work.length > 2) {
    sigma ??= narrowSigma(work, approx);
    // A long stretch was averaged in blocks: look again, close by, in blocks that are fine enough.
    if (work.block > 1)
      fillStretch(
        work,
        time,
        signal,
        base,
        Math.max(start, approx - 6 * sigma),
        Math.min(end, approx + 6 * sigma),
        sign,
      );
    const top = climb(work, approx, sigma);
    if (top !== undefined) {
      const flat = work.block === 1 ? plateau(time, signal, work.time[top]!, sigma) : undefined;
      if (flat !== undefined) {
        return {
          time: flat.time,
          height: flat.level - (base ? polylineAt(base, flat.time) : 0),
          method: 'plateau',
          points: flat.points,
        };
      }
      let apex = fitApex(work, top, sigma);
      if (question.sigma === undefined && apex.method === 'local fit') {
        // The width was taken around a guess; around the apex it is right.
        apex = fitApex(work, top, narrowSigma(work, apex.time));
      }
      return { ...apex, height: sign * apex.height };
    }
  }
  return { time: approx, height: sign * valueAt(work, approx), method: 'as given', points: Math.min(2, work.length) };
}

/** Standard deviation that matches the narrower side at half the height of the highest entry near `approx`. */
function narrowSigma(curve: Stretch, approx: number): number {
  const { time, length } = curve;
  const low = time[0]!;
  const high = time[length - 1]!;
  const half = Math.max(valueAt(curve, approx), 0) / 2;
  const left = timeAbove(curve, low, approx, half);
  const right = timeAbove(curve, approx, high, half);
  const narrow = Math.max(Math.min(left, right), 0.35 * Math.max(left, right));
  return Math.max(narrow / 1.1774100225154747, (high - low) / (4 * length));
}

/** Index of the highest entry uphill of `approx`; nothing when the hill ends at an end of the curve. */
function climb(curve: Stretch, approx: number, sigma: number): number | undefined {
  const { time, value, length } = curve;
  let centre = Math.max(0, Math.min(length - 1, firstEntryFrom(curve, approx)));
  if (centre > 0 && approx - time[centre - 1]! < time[centre]! - approx) centre--;
  for (let pass = 0; pass < 50; pass++) {
    const first = Math.max(0, Math.min(centre - 1, firstEntryFrom(curve, time[centre]! - sigma)));
    const last = Math.min(length - 1, Math.max(centre + 1, lastEntryTo(curve, time[centre]! + sigma)));
    let top = centre;
    for (let i = first; i <= last; i++) if (value[i]! > value[top]!) top = i;
    if (top === 0 || top === length - 1) return undefined;
    if (top === centre || (top > first && top < last)) return top;
    centre = top;
  }
  return undefined;
}

/** Middle of the run of equal samples around a position, when it is long enough to be a flat top. */
function plateau(
  time: ArrayLike<number>,
  signal: ArrayLike<number>,
  at: number,
  sigma: number,
): { time: number; level: number; points: number } | undefined {
  const index = firstAtOrAfter(time, at);
  if (index >= time.length) return undefined;
  const level = signal[index]!;
  let first = index;
  let last = index;
  while (first > 0 && signal[first - 1] === level) first--;
  while (last < time.length - 1 && signal[last + 1] === level) last++;
  const points = last - first + 1;
  if (points < 3 || time[last]! - time[first]! < 0.5 * sigma) return undefined;
  return { time: (time[first]! + time[last]!) / 2, level, points };
}

/** Maximum of the local fit around an entry that is higher than its neighbours. */
function fitApex(curve: Stretch, top: number, sigma: number): Apex {
  const { time, value, length, fit } = curve;
  const span = fitSpan * sigma;
  let centre = time[top]!;
  let height = value[top]!;
  let points = 0;
  for (let pass = 0; pass < 4; pass++) {
    const first = Math.max(0, firstEntryFrom(curve, centre - span));
    const last = Math.min(length - 1, lastEntryTo(curve, centre + span));
    points = last - first + 1;
    if (points < fewestPoints) return threePoints(time, value, top);
    // The quadratic is steadier when the first guess is a noisy sample; the quartic has the smaller bias.
    const degree = pass === 0 ? 2 : 4;
    if (!fitLocalPolynomial(time, value, first, last, centre, span, degree, fit)) return threePoints(time, value, top);
    const root = maximumNear(fit);
    if (root === undefined) {
      if (pass === 0) continue;
      // No maximum of the quartic near the centre: that of the quadratic over the same points.
      if (!fitLocalPolynomial(time, value, first, last, centre, span, 2, fit) || !(fit[2]! < 0))
        return threePoints(time, value, top);
      const vertex = -fit[1]! / (2 * fit[2]!);
      if (!(Math.abs(vertex) <= 1)) return threePoints(time, value, top);
      return { time: centre + vertex * span, height: fit[0]! + (vertex * fit[1]!) / 2, method: 'local fit', points };
    }
    centre = Math.max(time[0]!, Math.min(time[length - 1]!, centre + root * span));
    height = fit[0]! + root * (fit[1]! + root * (fit[2]! + root * (fit[3]! + root * fit[4]!)));
    if (pass > 1 && Math.abs(root) < 1e-4) break;
  }
  return { time: centre, height, method: 'local fit', points };
}

/** Maximum of a quartic within half the span of its centre, by Newton's method on the slope. */
function maximumNear(fit: Float64Array): number | undefined {
  let u = 0;
  for (let pass = 0; pass < 20; pass++) {
    const slope = fit[1]! + u * (2 * fit[2]! + u * (3 * fit[3]! + u * 4 * fit[4]!));
    const bend = 2 * fit[2]! + u * (6 * fit[3]! + u * 12 * fit[4]!);
    if (!(bend < 0)) return undefined;
    const move = -slope / bend;
    u += move;
    if (!(Math.abs(u) <= 1)) return undefined;
    if (Math.abs(move) < 1e-12) break;
  }
  return u;
}

/**
 * Vertex of the parabola through three neighbouring samples, the middle one the
 * highest, on an axis that need not be equally spaced.
 */
export function threePoints(time: ArrayLike<number>, value: ArrayLike<number>, middle: number): Apex {
  const t0 = time[middle]!;
  const y0 = value[middle]!;
  if (middle < 1 || middle > time.length - 2) return { time: t0, height: y0, method: 'three points', points: 1 };
  const left = time[middle - 1]! - t0;
  const right = time[middle + 1]! - t0;
  const slopeLeft = (value[middle - 1]! - y0) / left;
  const slopeRight = (value[middle + 1]! - y0) / right;
  const bend = (slopeRight - slopeLeft) / (right - left);
  if (!(bend < 0)) return { time: t0, height: y0, method: 'three points', points: 1 };
  const slope = slopeLeft - bend * left;
  const move = -slope / (2 * bend);
  return { time: t0 + move, height: y0 + (slope * move) / 2, method: 'three points', points: 3 };
}
