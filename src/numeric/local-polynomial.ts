import { firstAtOrAfter, type Polyline } from './stretch.js';

/** Place a local fit was moved to. */
export interface SettledFit {
  /** Position. */
  readonly time: number;
  /** Value of the polynomial there. */
  readonly value: number;
  /** Its slope there. */
  readonly slope: number;
}

/** [-] Moves smaller than this part of the span count as none. */
const still = 0.01;

/**
 * Moves a local fit along a curve until it is centred on what is looked for: a
 * root, a maximum, an inflection. Centred, the fit leans to neither side.
 *
 * @param curve - The curve.
 * @param start - Where to begin.
 * @param span - Half the width of the fit.
 * @param degree - Degree of the polynomial.
 * @param fewest - Points that must lie within the span.
 * @param move - From the coefficients of 1, u, u² ..., u = (t - centre) / span, the u of what is looked for; nothing
 *   when it is not there.
 * @returns Where it came to rest, never beyond the ends of the curve; nothing when there are too few points or it is
 *   not there.
 */
export function settleFit(
  curve: Polyline,
  start: number,
  span: number,
  degree: number,
  fewest: number,
  move: (fit: readonly number[]) => number | undefined,
): SettledFit | undefined {
  const { time } = curve;
  const fit = [0, 0, 0, 0, 0];
  const equations = degree > 2 ? new Array<number>((degree + 1) * (degree + 2)).fill(0) : [];
  let centre = start;
  for (let pass = 0; ; pass++) {
    const u = fitLocalPolynomial(curve, centre, span, degree, fewest, fit, equations) ? move(fit) : undefined;
    if (u === undefined) return undefined;
    const next = centre + Math.max(-1, Math.min(1, u)) * span;
    centre = Math.max(time[0]!, Math.min(time[time.length - 1]!, next));
    if (Math.abs(u) < still || pass === 5) {
      // What keeps running away has no place of its own near here.
      if (!(Math.abs(u) < 1)) return undefined;
      let value = 0;
      let slope = 0;
      for (let k = degree; k >= 0; k--) {
        slope = slope * u + value;
        value = value * u + fit[k]!;
      }
      return { time: centre, value, slope: slope / span };
    }
  }
}

/** [-] Share of a diagonal that must be left after the lower powers: below it the points determine nothing. */
const leastLeft = 1e-12;

/**
 * Fits a polynomial of degree 2 to 4 by unweighted least squares to the points
 * of a curve within `span` of `centre`, in the scaled position
 * u = (t - centre) / span, on the real, possibly unequal, axis.
 *
 * The normal equations are solved by elimination, which for them needs no
 * exchange of rows; with |u| up to 1 their condition number stays near 1e5, so
 * that ten digits are left.
 *
 * @param fit - Takes the coefficients of 1, u, u² ...
 * @param a - Room for the equations, when the degree is above 2.
 * @returns Whether there were at least `fewest` points that determine it.
 */
function fitLocalPolynomial(
  { time, value }: Polyline,
  centre: number,
  span: number,
  degree: number,
  fewest: number,
  fit: number[],
  a: number[],
): boolean {
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let s5 = 0;
  let s6 = 0;
  let s7 = 0;
  let s8 = 0;
  let b0 = 0;
  let b1 = 0;
  let b2 = 0;
  let b3 = 0;
  let b4 = 0;
  const first = firstAtOrAfter(time, centre - span);
  let after = first;
  const scale = 1 / span;
  for (; time[after]! <= centre + span; after++) {
    const u = (time[after]! - centre) * scale;
    const v = u * u;
    const w = v * v;
    const y = value[after]!;
    s1 += u;
    s2 += v;
    s3 += u * v;
    s4 += w;
    b0 += y;
    b1 += y * u;
    b2 += y * v;
    if (degree === 2) continue;
    s5 += u * w;
    s6 += v * w;
    s7 += u * v * w;
    s8 += w * w;
    b3 += y * u * v;
    b4 += y * w;
  }
  if (after - first < fewest) return false;
  const n = after - first;
  if (degree === 2) return solveQuadratic(n, s1, s2, s3, s4, b0, b1, b2, fit);
  const powers = [n, s1, s2, s3, s4, s5, s6, s7, s8];
  const right = [b0, b1, b2, b3, b4];
  // The equations row by row, the right side last.
  const size = degree + 1;
  const wide = size + 1;
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < size; k++) a[i * wide + k] = powers[i + k]!;
    a[i * wide + size] = right[i]!;
  }
  for (let j = 0; j < size; j++) {
    const pivot = a[j * wide + j]!;
    if (!(pivot > leastLeft * powers[2 * j]!)) return false;
    for (let i = 0; i < size; i++) {
      const factor = a[i * wide + j]! / pivot;
      if (i !== j) for (let k = j; k < wide; k++) a[i * wide + k]! -= factor * a[j * wide + k]!;
    }
  }
  for (let i = 0; i < size; i++) fit[i] = a[i * wide + size]! / a[i * wide + i]!;
  return true;
}

/** The same elimination for three equations, written out: most fits are of degree 2. */
function solveQuadratic(
  n: number,
  s1: number,
  s2: number,
  s3: number,
  s4: number,
  b0: number,
  b1: number,
  b2: number,
  fit: number[],
): boolean {
  const f1 = s1 / n;
  const f2 = s2 / n;
  const a11 = s2 - f1 * s1;
  const a12 = s3 - f1 * s2;
  const r1 = b1 - f1 * b0;
  if (!(a11 > leastLeft * s2)) return false;
  const f0 = s1 / a11;
  const g2 = (s3 - f2 * s1) / a11;
  const a22 = s4 - f2 * s2 - g2 * a12;
  const r2 = b2 - f2 * b0 - g2 * r1;
  if (!(a22 > leastLeft * s4)) return false;
  fit[0] = (b0 - f0 * r1 - ((s2 - f0 * a12) / a22) * r2) / n;
  fit[1] = (r1 - (a12 / a22) * r2) / a11;
  fit[2] = r2 / a22;
  return true;
}
