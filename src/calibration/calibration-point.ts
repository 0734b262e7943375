import { defined, describe, PeakwrightError, resolveOptions } from '../core/index.js';
import { deriveAmountUnit } from './units.js';

/**
 * One response of a standard. What was injected is stated in one of three ways,
 * the same for all points: `amount`; `concentration` with `volume`, whose
 * product is the amount; or `concentration` alone, for a curve against
 * concentration at one constant volume.
 *
 * @public
 */
export interface CalibrationPoint {
  /** [amount unit] Amount injected. */
  readonly amount?: number;
  /** [concentration unit] Concentration of the solution injected. */
  readonly concentration?: number;
  /** [volume unit] Volume injected. */
  readonly volume?: number;
  /** [response unit] Area (or height) of the peak. */
  readonly response: number;
  /** Name of the injection, for example the file; the same for all components of one run. */
  readonly injection?: string;
  /** Name of the level. */
  readonly level?: string;
  /** Leaves the point out of the fit and says why; it stays in the result. */
  readonly excluded?: { readonly reason: string };
}

/** A point with its amount worked out. */
export interface ResolvedPoint extends CalibrationPoint {
  readonly row: number;
  readonly amount: number;
}

/** All points on one axis, with the units that belong to it. */
export interface ResolvedPoints {
  readonly quantity: 'amount injected' | 'concentration';
  readonly amountUnit: string;
  /** [amount unit per (concentration unit x volume unit)] When both are known. */
  readonly factor?: number;
  readonly points: readonly ResolvedPoint[];
}

/** The fields a point may have. */
const fields: { [K in keyof CalibrationPoint]-?: CalibrationPoint[K] | undefined } = {
  amount: undefined,
  concentration: undefined,
  volume: undefined,
  response: undefined,
  injection: undefined,
  level: undefined,
  excluded: undefined,
};

/** Checks every point and puts all of them on one axis. */
export function resolvePoints(
  caller: string,
  points: readonly CalibrationPoint[],
  amountUnit: string | undefined,
  concentrationUnit: string | undefined,
  volumeUnit: string,
): ResolvedPoints {
  const kinds = points.map((point, i) => checkPoint(caller, point, i + 1, points[0]!));
  const kind = kinds[0] ?? 'amount';
  const own = kind === 'amount' ? 'amount' : 'concentration';
  const unit = own === 'amount' ? amountUnit : concentrationUnit;
  if (unit === undefined || unit === '') failUnit(caller, `${own}Unit`);
  const derived =
    kind === 'concentration and volume' ? deriveAmountUnit(caller, unit, volumeUnit, amountUnit) : undefined;
  return defined({
    quantity: kind === 'concentration' ? 'concentration' : 'amount injected',
    amountUnit: derived?.amount ?? unit,
    factor: derived?.factor,
    points: points.map((point, i) => ({
      ...point,
      row: i + 1,
      amount: derived === undefined ? point[own]! : point.concentration! * point.volume! * derived.factor,
    })),
  } as const);
}

/** Throws `unit-missing` for a unit that has to be stated. */
export function failUnit(caller: string, field: string): never {
  throw new PeakwrightError('unit-missing', `${caller}: state a unit in option ${field}.`, { field });
}

/** Answers in which of the three ways the point says what was injected. */
function checkPoint(caller: string, point: CalibrationPoint, row: number, first: CalibrationPoint): string {
  resolveOptions(`${caller}, point ${row}`, fields, point);
  const { response, excluded } = point;
  const check = (field: string, value: unknown, inOrder: boolean, expected: string): void => {
    if (inOrder) return;
    throw new PeakwrightError(
      'calibration-point-invalid',
      `${caller}: ${field} of point ${row} must be ${expected}; received ${describe(value)}.`,
      { row, field, value, expected },
    );
  };
  check('response', response, Number.isFinite(response), 'a finite number');
  for (const field of ['amount', 'concentration', 'volume'] as const) {
    const value = point[field];
    check(field, value, value === undefined || (Number.isFinite(value) && value >= 0), 'a finite number, 0 or more');
  }
  const reason: unknown = excluded === undefined ? 'none' : excluded.reason;
  check('excluded.reason', reason, typeof reason === 'string' && reason.trim() !== '', 'a reason in words');
  const kind = kindOf(point);
  check('amount or concentration', kind, kind !== '', 'stated, and only one of them');
  check('statement', kind, kind === kindOf(first), `of the same kind as that of point 1, ${kindOf(first)}`);
  return kind;
}

function kindOf({ amount, concentration, volume }: CalibrationPoint): string {
  if ((amount === undefined) === (concentration === undefined)) return '';
  if (amount !== undefined) return 'amount';
  return volume === undefined ? 'concentration' : 'concentration and volume';
}
