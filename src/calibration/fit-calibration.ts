import { failOption, PeakwrightError, resolveOptions } from '../core/index.js';
import { coverageFactor } from '../numeric/index.js';
import type { Calibration, FittedParameter, FittedPoint } from './calibration.js';
import { resolvePoints, type CalibrationPoint, type ResolvedPoint, type ResolvedPoints } from './calibration-point.js';
import { doubtCalibration } from './doubt-calibration.js';
import { fitStraightLine, type StraightLine } from './straight-line.js';
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

interface Settings extends Required<
  Pick<CalibrationOptions, 'volumeUnit' | 'model' | 'weighting' | 'responseKind' | 'confidence'>
> {
  readonly responseUnit: string | undefined;
  readonly concentrationUnit: string | undefined;
  readonly amountUnit: string | undefined;
  readonly component: string | undefined;
}

const defaults: Settings = {
  responseUnit: undefined,
  concentrationUnit: undefined,
  volumeUnit: 'µL',
  amountUnit: undefined,
  model: 'straight line',
  weighting: 'none',
  responseKind: 'area',
  confidence: 0.95,
  component: undefined,
};

const caller = 'fitCalibration';

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
 * @throws {@link PeakwrightError} `calibration-point-invalid` when a field of a
 *   point is unknown, not finite, negative where it must not be, or missing;
 *   `unit-missing`, `unit-unknown`; `unit-mismatch` when points state what was
 *   injected in different ways or in units that cannot be converted;
 *   `calibration-too-few-points` when fewer than three different points remain;
 *   `calibration-one-level` when all their amounts are equal; `option-invalid`,
 *   `option-unknown`.
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
 * Least squares by Householder triangularisation of the centred, scaled amounts.
 * Intervals are two-sided, from Student's t with n - 2 degrees of freedom.
 *
 * @see J. N. Miller, J. C. Miller, Statistics and Chemometrics for Analytical
 *   Chemistry, chapter on calibration (formulas from memory).
 *
 * @public
 */
export function fitCalibration(points: readonly CalibrationPoint[], options: CalibrationOptions): Calibration {
  const settings = resolveOptions<Settings>(caller, defaults, options);
  const { confidence, responseUnit, concentrationUnit, volumeUnit, responseKind, component } = settings;
  checkSettings(settings);
  // callers in plain JavaScript have no compiler to stop them
  if (!Array.isArray(points)) failOption(caller, 'points', 'an array of points', points);
  if (responseUnit === undefined || responseUnit === '') {
    throw new PeakwrightError('unit-missing', `${caller}: state the unit of the responses in option responseUnit.`, {
      field: 'responseUnit',
    });
  }
  const resolved = resolvePoints(caller, points, {
    amount: settings.amountUnit,
    concentration: concentrationUnit,
    volume: volumeUnit,
  });
  const used = resolved.points.filter((point) => point.excluded === undefined);
  const line = fitUsed(used, resolved);
  const t = coverageFactor(confidence, used.length - 2);
  const parameter = (value: number, variance: number): FittedParameter => {
    const standardUncertainty = Math.sqrt(variance);
    const half = t * standardUncertainty;
    return { value, standardUncertainty, interval: [value - half, value + half] };
  };
  const slope = parameter(line.slope, line.covariance[3]!);
  const intercept = parameter(line.intercept, line.covariance[0]!);
  const volumes = used.flatMap((point) => point.volume ?? []);
  const offset = readVolumeOffset(used, resolved, line, t, { confidence, volumeUnit, concentrationUnit });
  const share = determination(used, line);
  const calibration: Calibration = {
    ...(component === undefined ? {} : { component }),
    model: settings.model,
    weighting: settings.weighting,
    quantity: resolved.quantity,
    responseKind,
    units: {
      amount: resolved.amountUnit,
      response: responseUnit,
      slope: `${responseUnit}/${resolved.amountUnit.includes('/') ? `(${resolved.amountUnit})` : resolved.amountUnit}`,
      ...(concentrationUnit === undefined ? {} : { concentration: concentrationUnit }),
      volume: volumeUnit,
    },
    slope,
    intercept,
    covariance: line.covariance[1]!,
    residualStandardDeviation: line.s,
    degreesOfFreedom: used.length - 2,
    confidence,
    coverageFactor: t,
    meanAmount: line.meanX,
    meanResponse: line.meanY,
    sumOfSquares: line.sxx,
    range: extent(used.map((point) => point.amount)),
    ...(volumes.length === used.length ? { volumeRange: extent(volumes) } : {}),
    points: used.map((point) => {
      const distance = point.amount - line.meanX;
      return { ...besideLine(point, line), leverage: 1 / line.n + (distance / line.sxx) * distance };
    }),
    excluded: resolved.points.flatMap((point) =>
      point.excluded === undefined ? [] : [{ ...besideLine(point, line), reason: point.excluded.reason }],
    ),
    ...(offset === undefined ? {} : { volumeOffset: offset }),
    warnings: [],
    ...(share === undefined ? {} : { rSquared: share }),
  };
  failUnlessFinite(calibration);
  return { ...calibration, warnings: doubtCalibration(calibration) };
}

function checkSettings(settings: Settings): void {
  const { confidence, model, weighting, responseKind } = settings;
  if (!(confidence > 0 && confidence < 1)) failOption(caller, 'confidence', 'between 0 and 1', confidence);
  // the types allow nothing else, but settings also come from JSON
  if ((model as string) !== 'straight line') failOption(caller, 'model', "'straight line'", model);
  if ((weighting as string) !== 'none') failOption(caller, 'weighting', "'none'", weighting);
  if (!['area', 'height'].includes(responseKind))
    failOption(caller, 'responseKind', "'area' or 'height'", responseKind);
}

function fitUsed(
  used: readonly ResolvedPoint[],
  resolved: ResolvedPoints,
): NonNullable<ReturnType<typeof fitStraightLine>> {
  const different = new Set(used.map((point) => `${point.amount} ${point.response}`)).size;
  if (different < 3) {
    const left = resolved.points.length - used.length;
    throw new PeakwrightError(
      'calibration-too-few-points',
      `${caller}: a line with an uncertainty needs at least 3 different points; there are ${different}${left > 0 ? `, and ${left} left out` : ''}.`,
      { field: 'points', value: different, expected: 'at least 3 different points' },
    );
  }
  const x = Float64Array.from(used, (point) => point.amount);
  const line = fitStraightLine(
    x,
    Float64Array.from(used, (point) => point.response),
  );
  if (line === undefined) {
    throw new PeakwrightError(
      'calibration-one-level',
      `${caller}: all ${used.length} points have the amount ${used[0]!.amount} ${resolved.amountUnit}; a line needs at least two amounts.`,
      { field: 'points', value: used[0]!.amount, expected: 'at least two different amounts' },
    );
  }
  return line;
}

function besideLine(point: ResolvedPoint, line: StraightLine): FittedPoint {
  const { row, injection, level, concentration, volume, amount, response } = point;
  const fitted = line.intercept + line.slope * amount;
  const residual = response - fitted;
  const backCalculated = line.slope === 0 ? undefined : line.meanX + (response - line.meanY) / line.slope;
  return {
    row,
    ...(injection === undefined ? {} : { injection }),
    ...(level === undefined ? {} : { level }),
    ...(concentration === undefined ? {} : { concentration }),
    ...(volume === undefined ? {} : { volume }),
    amount,
    response,
    fitted,
    residual,
    ...(fitted === 0 ? {} : { relativeResidual: (100 * residual) / fitted }),
    ...(backCalculated === undefined ? {} : { backCalculated }),
    ...(backCalculated === undefined || amount === 0
      ? {}
      : { relativeError: (100 * (backCalculated - amount)) / amount }),
  };
}

function determination(used: readonly ResolvedPoint[], line: StraightLine): Calibration['rSquared'] {
  let residual = 0;
  let total = 0;
  for (const { amount, response } of used) {
    const rise = response - line.meanY;
    const rest = rise - line.slope * (amount - line.meanX);
    residual += rest * rest;
    total += rise * rise;
  }
  if (total === 0) return undefined;
  return {
    value: 1 - residual / total,
    remark: 'A value near 1 does not prove that the line is straight; look at the residuals.',
  };
}

function failUnlessFinite(calibration: Calibration): void {
  const { slope, intercept, covariance, residualStandardDeviation, sumOfSquares, volumeOffset: offset } = calibration;
  const points = [...calibration.points, ...calibration.excluded];
  const numbers = [
    ...[slope, intercept].flatMap((each) => [each.value, each.standardUncertainty, ...each.interval]),
    ...[covariance, residualStandardDeviation, sumOfSquares, calibration.rSquared?.value ?? 0],
    ...points.flatMap((point) => [
      point.residual,
      point.relativeResidual ?? 0,
      point.backCalculated ?? 0,
      point.relativeError ?? 0,
    ]),
    ...(offset === undefined ? [] : [offset.value, offset.standardUncertainty, ...(offset.interval ?? [])]),
  ];
  if (numbers.every(Number.isFinite) && sumOfSquares > 0) return;
  throw new PeakwrightError(
    'calibration-point-invalid',
    `${caller}: the numbers are too large or too small to compute with; state amounts and responses in units that bring them nearer to 1.`,
    { field: 'points', expected: 'numbers whose squares can be represented' },
  );
}

function extent(values: readonly number[]): [number, number] {
  return [Math.min(...values), Math.max(...values)];
}
