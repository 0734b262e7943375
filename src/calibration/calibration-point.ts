import {
  checkFields,
  checkNotNegative,
  checkNumber,
  checkText,
  defined,
  fail,
  failOption,
  optional,
  type Check,
} from '../core/index.js';
import { checkUnit, objectOf } from './check-options.js';
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

/** Made when asked for, so that who does not calibrate does not load it. */
const checks = (): { readonly [K in keyof CalibrationPoint]-?: Check } => ({
  amount: optional(checkNotNegative),
  concentration: optional(checkNotNegative),
  volume: optional(checkNotNegative),
  response: checkNumber,
  injection: optional(checkText),
  level: optional(checkText),
  excluded: optional(objectOf({ reason: checkReason })),
});

/** Checks every point and puts all of them on one axis. */
export function resolvePoints(
  caller: string,
  points: readonly CalibrationPoint[],
  amountUnit: string | undefined,
  concentrationUnit: string | undefined,
  volumeUnit: string,
): ResolvedPoints {
  const first = points[0];
  const byConcentration = first?.concentration !== undefined;
  const byVolume = byConcentration && first.volume !== undefined;
  points.forEach((point, i) => {
    checkFields(caller, checks(), point, `points[${i}].`);
    const isConcentration = point.concentration !== undefined;
    const isAmount = point.amount !== undefined;
    const isVolume = isConcentration && point.volume !== undefined;
    if (isConcentration === byConcentration && isAmount !== byConcentration && isVolume === byVolume) return;
    const message = `point ${i + 1} must state amount, concentration and volume, or concentration, as all others do.`;
    fail(caller, 'calibration-point-invalid', message, { row: i + 1, field: 'amount' });
  });
  const unit = byConcentration ? concentrationUnit : amountUnit;
  checkUnit(caller, byConcentration ? 'concentrationUnit' : 'amountUnit', unit);
  const derived = byVolume ? deriveAmountUnit(caller, unit!, volumeUnit, amountUnit) : undefined;
  return defined({
    quantity: byConcentration && !byVolume ? 'concentration' : 'amount injected',
    amountUnit: derived?.amount ?? unit!,
    factor: derived?.factor,
    points: points.map((point, i) => {
      const { amount, concentration = 0, volume = 0 } = point;
      return { ...point, row: i + 1, amount: amount ?? concentration * (derived ? volume * derived.factor : 1) };
    }),
  } as const);
}

function checkReason(caller: string, field: string, value: unknown): void {
  if (typeof value !== 'string' || value.trim() === '') failOption(caller, field, 'a reason in words', value);
}
