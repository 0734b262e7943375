import { describe, nearest, PeakwrightError } from '../core/index.js';
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

const known = ['amount', 'concentration', 'volume', 'response', 'injection', 'level', 'excluded'];

/** Checks every point and puts all of them on one axis. */
export function resolvePoints(
  caller: string,
  points: readonly CalibrationPoint[],
  units: { readonly amount?: string | undefined; readonly concentration?: string | undefined; readonly volume: string },
): ResolvedPoints {
  points.forEach((point, i) => checkPoint(caller, point, i + 1));
  const kinds = points.map((point) => {
    if (point.amount !== undefined) return 'amount';
    return point.volume === undefined ? 'concentration' : 'concentration and volume';
  });
  const kind = kinds[0] ?? 'amount';
  const other = kinds.findIndex((each) => each !== kind);
  if (other > 0) {
    throw new PeakwrightError(
      'unit-mismatch',
      `${caller}: point 1 states ${kind} and point ${other + 1} states ${kinds[other]!}; state what was injected in the same way for all points.`,
      { row: other + 1, value: kinds[other], expected: kind },
    );
  }
  const amountUnit = kind === 'amount' ? units.amount : units.concentration;
  if (amountUnit === undefined || amountUnit === '') {
    const field = kind === 'amount' ? 'amountUnit' : 'concentrationUnit';
    throw new PeakwrightError(
      'unit-missing',
      `${caller}: the points state ${kind}; state its unit in option ${field}.`,
      {
        field,
      },
    );
  }
  if (kind === 'concentration and volume') {
    const { amount, factor } = deriveAmountUnit(caller, amountUnit, units.volume, units.amount);
    const resolved = points.map((point, i) => ({
      ...point,
      row: i + 1,
      amount: point.concentration! * point.volume! * factor,
    }));
    return { quantity: 'amount injected', amountUnit: amount, factor, points: resolved };
  }
  const resolved = points.map((point, i) => ({ ...point, row: i + 1, amount: (point.amount ?? point.concentration)! }));
  return { quantity: kind === 'amount' ? 'amount injected' : 'concentration', amountUnit, points: resolved };
}

function checkPoint(caller: string, point: CalibrationPoint, row: number): void {
  if (typeof point !== 'object' || (point as unknown) === null) {
    throw new PeakwrightError(
      'calibration-point-invalid',
      `${caller}: point ${row} must be an object with a response and what was injected; received ${describe(point)}.`,
      { row, value: point, expected: 'an object' },
    );
  }
  for (const field of Object.keys(point)) {
    if (known.includes(field)) continue;
    const near = nearest(field, known);
    throw new PeakwrightError(
      'calibration-point-invalid',
      `${caller}: point ${row} has a field ${field} that is not known${near === undefined ? '' : `; did you mean ${near}?`} There are ${known.join(', ')}.`,
      { row, field, candidates: known },
    );
  }
  const fail = (field: string, value: unknown, expected: string): never => {
    throw new PeakwrightError(
      'calibration-point-invalid',
      `${caller}: ${field} of point ${row} must be ${expected}; received ${describe(value)}.`,
      { row, field, value, expected },
    );
  };
  if (!Number.isFinite(point.response)) fail('response', point.response, 'a finite number');
  for (const field of ['amount', 'concentration', 'volume'] as const) {
    const value = point[field];
    if (value !== undefined && !(Number.isFinite(value) && value >= 0))
      fail(field, value, 'a finite number, 0 or more');
  }
  if (point.amount === undefined && point.concentration === undefined) {
    fail('amount', undefined, 'stated, as amount or as concentration with volume');
  }
  if (point.amount !== undefined && point.concentration !== undefined) {
    fail('concentration', point.concentration, 'left out when the amount is stated');
  }
  if (point.excluded !== undefined) {
    const reason: unknown = point.excluded.reason;
    if (typeof reason !== 'string' || reason.trim() === '') fail('excluded.reason', reason, 'a reason in words');
  }
}
