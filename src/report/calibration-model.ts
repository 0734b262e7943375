import type { Calibration, FittedPoint, PredictedQuantity, Prediction } from '../calibration/index.js';
import { failOption } from '../core/index.js';
import { significantNumber, valueWithUncertainty } from './number-text.js';

/** An unknown to be shown beside the line it was read from. */
export interface ShownUnknown {
  /** Name. */
  readonly name: string;
  /** [response unit] Mean response. */
  readonly response: number;
  /** The quantity on the axis of the calibration; absent when none could be read. */
  readonly quantity?: PredictedQuantity;
  /** Why there is none. */
  readonly reason?: string;
  /** It with its standard uncertainty, or that there is none. */
  readonly text: string;
}

/** A point, left out when it has a reason for that. */
export type ShownPoint = FittedPoint & {
  readonly reason?: string;
  /** What a reader sees on pointing at it. */
  readonly title: string;
};

/** What a picture of a calibration shows, not yet scaled. */
export interface CalibrationModel {
  /** The points left out, then the others. */
  readonly points: readonly ShownPoint[];
  /** [amount unit] Ends of the axis of amounts. */
  readonly amounts: readonly [number, number];
  /** [response unit] Ends of the axis of responses. */
  readonly responses: readonly [number, number];
  /** [response unit] Largest residual to show, either side of 0. */
  readonly residual: number;
}

/** [response unit] The fitted line. */
export function lineAt({ slope, intercept }: Calibration, amount: number): number {
  return intercept.value + slope.value * amount;
}

/** [response unit] Half the width of the confidence band of the line: k sqrt(var a + 2 x cov + x² var b). */
export function bandAt({ slope, intercept, covariance, coverageFactor }: Calibration, amount: number): number {
  const a = intercept.standardUncertainty;
  const b = amount * slope.standardUncertainty;
  return coverageFactor * Math.sqrt(Math.max(0, a * a + 2 * amount * covariance + b * b));
}

/** Unknowns on the axis of the calibration. */
export function shownUnknowns(
  calibration: Calibration,
  unknowns: readonly { readonly name: string; readonly prediction: Prediction }[],
): ShownUnknown[] {
  return unknowns.map(({ name, prediction }) => {
    const response = prediction.meanResponse;
    if (prediction.outcome === 'not determinable') {
      return { name, response, reason: prediction.reason, text: prediction.outcome };
    }
    const quantity = calibration.quantity === 'amount injected' ? prediction.amount : prediction.concentration;
    const { amount } = calibration.units;
    if (quantity?.unit !== amount) {
      const expected = `predictions from this calibration, in ${amount}`;
      failOption('renderCalibration', 'unknowns', expected, quantity?.unit ?? name);
    }
    const text = `${valueWithUncertainty(quantity.value, quantity.standardUncertainty)} ${amount}`;
    return { name, response, quantity, text };
  });
}

/** Ends of all axes: everything that was measured, zero, and a little room. */
export function calibrationModel(calibration: Calibration, unknowns: readonly ShownUnknown[]): CalibrationModel {
  const { amount: unit, response: area } = calibration.units;
  const both: readonly (FittedPoint & { readonly reason?: string })[] = [
    ...calibration.excluded,
    ...calibration.points,
  ];
  const points = both.map((point): ShownPoint => {
    const { injection, level, row, amount, response, residual, reason } = point;
    const [x, y, e] = [amount, response, residual].map((value) => significantNumber(value, 5));
    const left = reason === undefined ? '' : `\nleft out: ${reason}`;
    const title = `${injection ?? level ?? `point ${row}`}\n${x} ${unit}\nresponse ${y} ${area}\nresidual ${e} ${area}${left}`;
    return { ...point, title };
  });
  const read = unknowns.flatMap(({ quantity }) => quantity ?? []);
  const amounts = [0, ...points.map(({ amount }) => amount), ...read.map(({ value }) => value)];
  const highest = Math.max(...amounts);
  // An interval may be far wider than the line is long: it is drawn as far as the axis goes.
  for (const { interval } of read) {
    if (interval !== undefined)
      amounts.push(Math.min(interval.to, 1.3 * highest), Math.max(interval.from, -0.2 * highest));
  }
  const ends = widen(amounts, 0.05);
  const responses = [0, ...[...points, ...unknowns].map(({ response }) => response)];
  responses.push(...ends.map((amount) => lineAt(calibration, amount)));
  const residuals = calibration.points.map(({ residual }) => Math.abs(residual));
  const scatter = calibration.residualStandardDeviation * calibration.coverageFactor;
  return {
    points,
    amounts: ends,
    responses: widen(responses, 0.04),
    residual: Math.max(1.25 * Math.max(...residuals), 1.15 * scatter) || 1,
  };
}

function widen(values: readonly number[], share: number): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = (high - low) * share || 1;
  return [low < 0 ? low - room : low, high + room];
}
