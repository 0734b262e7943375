import { checkFields, checkText, defined, fail, failOption, optional } from '../core/index.js';
import { coverageFactor } from '../numeric/index.js';
import { allFinite } from './all-finite.js';
import type { Calibration, FittedParameter, FittedPoint } from './calibration.js';
import { resolvePoints, type CalibrationPoint, type ResolvedPoint } from './calibration-point.js';
import { checkConfidence, checkUnit, oneOf } from './check-options.js';
import { doubtCalibration } from './doubt-calibration.js';
import { fitStraightLine, leverageAt, lineAt, type StraightLine } from './straight-line.js';
import { readVolumeOffset } from './volume-offset.js';

/**
 * Options of {@link fitCalibration}.
 *
 * @public
 */
export interface CalibrationOptions {
  /** Unit of the responses, for example `'mAU s'`. */
  readonly responseUnit: string;
  /**
   * Unit of concentrations: a mass or moles per volume, for example `'mg/L'`.
   * Needed when points state concentrations.
   *
   * @defaultValue undefined
   */
  readonly concentrationUnit?: string;
  /**
   * Unit of injected volumes.
   *
   * @defaultValue 'µL'
   */
  readonly volumeUnit?: string;
  /**
   * Unit of amounts. Needed when points state amounts; otherwise it follows from
   * concentration times volume, and one stated here is converted to.
   *
   * @defaultValue undefined
   */
  readonly amountUnit?: string;
  /**
   * The curve.
   *
   * @defaultValue 'straight line'
   */
  readonly model?: 'straight line';
  /**
   * Weights of the points.
   *
   * @defaultValue 'none'
   */
  readonly weighting?: 'none';
  /**
   * What was measured on the peaks.
   *
   * @defaultValue 'area'
   */
  readonly responseKind?: 'area' | 'height';
  /**
   * [-] Confidence of the intervals, between 0 and 1.
   *
   * @defaultValue 0.95
   */
  readonly confidence?: number;
  /**
   * Name of the component, carried to the result.
   *
   * @defaultValue undefined
   */
  readonly component?: string;
}

/** Made when asked for, so that who does not calibrate does not load it. */
const checks = () => ({
  responseUnit: checkUnit,
  concentrationUnit: optional(checkUnit),
  volumeUnit: optional(checkUnit),
  amountUnit: optional(checkUnit),
  model: optional(oneOf('straight line')),
  weighting: optional(oneOf('none')),
  responseKind: optional(oneOf('area', 'height')),
  confidence: optional(checkConfidence),
  component: optional(checkText),
});

const defaults = {
  volumeUnit: 'µL',
  model: 'straight line',
  weighting: 'none',
  responseKind: 'area',
  confidence: 0.95,
} as const;

const caller = 'fitCalibration';
const remark = 'Look at the residuals: this does not show a bend.';

/**
 * Fits the straight line of response against amount, with intercept and without
 * weights.
 *
 * Amounts are stated, or are concentration times injected volume: 25 µg/mL x
 * 10 µL = 250 ng. When one standard was injected at several volumes, the
 * intercept is also given as a volume ({@link Calibration.volumeOffset}). Points
 * with `excluded` have no part in the fit and stay in the result beside the line.
 *
 * @param points - The points in any order, blanks (amount 0) and replicates as
 *   points of their own; read, never changed.
 * @param options - Units, kind of response, confidence; see
 *   {@link CalibrationOptions}.
 *
 * @returns The line with uncertainties, residuals and warnings, as plain data.
 *
 * @throws {@link PeakwrightError} `option-invalid` for a field of a point, such
 *   as `points[1].response`, that is not finite or negative where it must not be;
 *   `calibration-point-invalid` when a point does not say what was injected as
 *   the first point does;
 *   `unit-missing`, `unit-unknown`; `unit-mismatch` for units that cannot be
 *   converted;
 *   `calibration-too-few-points` when fewer than three different points remain;
 *   `calibration-one-level` when all their amounts are equal; `option-invalid`;
 *   `option-unknown`, also for a field of a point.
 *
 * @example
 * ```ts
 * const areas = [41.9, 80.6, 121.7, 160.2, 200.4];
 * const points = areas.map((response, i) => ({ concentration: 25, volume: 2 * (i + 1), response }));
 * const line = fitCalibration(points, { concentrationUnit: 'mg/L', responseUnit: 'mAU s' });
 * line.units.amount; // => 'ng'
 * line.slope.value.toFixed(4); // => '0.7932'
 * ```
 *
 * @remarks
 * Least squares by Gram-Schmidt orthogonalisation of the centred amounts.
 * Intervals are two-sided, from Student's t with n - 2 degrees of freedom.
 *
 * @see J. N. Miller, J. C. Miller, Statistics and Chemometrics for Analytical
 *   Chemistry, chapter on calibration (formulas from memory).
 *
 * @public
 */
export function fitCalibration(points: readonly CalibrationPoint[], options: CalibrationOptions): Calibration {
  checkFields(caller, checks(), options);
  if (!Array.isArray(points)) failOption(caller, 'points', 'an array of points', points);
  const {
    responseUnit,
    amountUnit: wanted,
    concentrationUnit,
    volumeUnit,
    ...carried
  } = { ...defaults, ...defined(options) };
  const resolved = resolvePoints(caller, points, wanted, concentrationUnit, volumeUnit);
  const { quantity, amountUnit } = resolved;
  const used = resolved.points.filter(({ excluded }) => excluded === undefined);
  checkEnough(used);
  const line = fitStraightLine(
    Float64Array.from(used, ({ amount }) => amount),
    Float64Array.from(used, ({ response }) => response),
  );
  const t = coverageFactor(carried.confidence, line.degreesOfFreedom);
  const { residualStandardDeviation: s, meanAmount, sumOfSquares } = line;
  const parameter = (value: number, unscaledVariance: number): FittedParameter => {
    const standardUncertainty = s * Math.sqrt(unscaledVariance);
    const half = t * standardUncertainty;
    return { value, standardUncertainty, interval: [value - half, value + half] };
  };
  const explained = line.slope * sumOfSquares * line.slope;
  const volumes = used.flatMap(({ volume }) => volume ?? []);
  const calibration: Calibration = defined({
    ...carried,
    quantity,
    units: defined({
      amount: amountUnit,
      response: responseUnit,
      slope: `${responseUnit}/${amountUnit.includes('/') ? `(${amountUnit})` : amountUnit}`,
      concentration: concentrationUnit,
      volume: volumeUnit,
    }),
    ...line,
    slope: parameter(line.slope, 1 / sumOfSquares),
    intercept: parameter(lineAt(line, 0), leverageAt(line, 0)),
    covariance: (-meanAmount / sumOfSquares) * s * s,
    coverageFactor: t,
    range: extent(used.map(({ amount }) => amount)),
    volumeRange: volumes.length === used.length ? extent(volumes) : undefined,
    points: used.map((point) => ({ ...besideLine(point, line), leverage: leverageAt(line, point.amount) })),
    excluded: resolved.points.flatMap(({ excluded, ...point }) =>
      excluded === undefined ? [] : [{ ...besideLine(point, line), reason: excluded.reason }],
    ),
    volumeOffset: readVolumeOffset(used, resolved.factor, line, t),
    warnings: [],
    rSquared:
      explained === 0 && s === 0
        ? undefined
        : { value: explained / (explained + s * s * line.degreesOfFreedom), remark },
  });
  if (!allFinite(calibration)) {
    const message = 'the numbers are too large or too small; choose other units.';
    fail(caller, 'calibration-point-invalid', message, { field: 'points' });
  }
  return { ...calibration, warnings: doubtCalibration(calibration) };
}

function checkEnough(used: readonly ResolvedPoint[]): void {
  const points = new Set(used.map(({ amount, response }) => `${amount} ${response}`)).size;
  const amounts = new Set(used.map(({ amount }) => amount)).size;
  if (points >= 3 && amounts >= 2) return;
  fail(
    caller,
    points < 3 ? 'calibration-too-few-points' : 'calibration-one-level',
    `a line needs 3 different points and 2 different amounts; there are ${points} and ${amounts}.`,
    { field: 'points', value: points },
  );
}

function besideLine(point: ResolvedPoint, line: StraightLine): FittedPoint {
  const { amount, response } = point;
  const { slope } = line;
  const fitted = lineAt(line, amount);
  const residual = response - fitted;
  return defined({
    ...point,
    fitted,
    residual,
    relativeResidual: fitted === 0 ? undefined : (100 * residual) / fitted,
    relativeError: slope === 0 || amount === 0 ? undefined : (100 * residual) / slope / amount,
  });
}

function extent(values: readonly number[]): [number, number] {
  return [Math.min(...values), Math.max(...values)];
}
