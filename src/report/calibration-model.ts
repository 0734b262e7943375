import type { Calibration, FittedPoint, PredictedQuantity, Prediction } from '../calibration/index.js';
import { failOption } from '../core/index.js';
import { valueWithUncertainty } from './number-text.js';

/** An unknown to be shown beside the line it was read from. */
export interface ShownUnknown {
  /** Name. */
  readonly name: string;
  /** [response unit] Mean response. */
  readonly response: number;
  /** The quantity on the axis of the calibration; absent when none could be read. */
  readonly quantity?: PredictedQuantity;
  /** It with its standard uncertainty, or that there is none. */
  readonly text: string;
}

/** What a picture of a calibration shows, not yet scaled. */
export interface CalibrationModel {
  /** The points left out, which have a reason for that, then the others. */
  readonly points: readonly (FittedPoint & { readonly reason?: string })[];
  /** What was read from the line. */
  readonly unknowns: readonly ShownUnknown[];
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
  { quantity: kind, units: { amount } }: Calibration,
  unknowns: readonly { readonly name: string; readonly prediction: Prediction }[],
): ShownUnknown[] {
  return unknowns.map(({ name, prediction }) => {
    const response = prediction.meanResponse;
    if (prediction.outcome === 'not determinable') return { name, response, text: prediction.outcome };
    const quantity = kind === 'amount injected' ? prediction.amount : prediction.concentration;
    if (quantity?.unit !== amount)
      failOption('renderCalibration', 'unknowns', `read from this line, in ${amount}`, name);
    const text = `${valueWithUncertainty(quantity.value, quantity.standardUncertainty)} ${amount}`;
    return { name, response, quantity, text };
  });
}

/** Ends of all axes: everything that was measured, zero, and a little room. */
export function calibrationModel(calibration: Calibration, unknowns: readonly ShownUnknown[]): CalibrationModel {
  const points = [...calibration.excluded, ...calibration.points];
  const read = unknowns.flatMap(({ quantity }) => quantity ?? []);
  const amounts = [0, ...points.map(({ amount }) => amount), ...read.map(({ value }) => value)];
  const highest = Math.max(...amounts);
  // An interval may be far wider than the line is long: it is drawn as far as the axis goes.
  for (const { interval } of read) {
    if (interval) amounts.push(Math.min(interval.to, 1.3 * highest), Math.max(interval.from, -0.2 * highest));
  }
  const ends = widen(amounts);
  const responses = [0, ...[...points, ...unknowns].map(({ response }) => response)];
  responses.push(...ends.map((amount) => lineAt(calibration, amount)));
  const residuals = calibration.points.map(({ residual }) => Math.abs(residual));
  const scatter = calibration.residualStandardDeviation * calibration.coverageFactor;
  return {
    points,
    unknowns,
    amounts: ends,
    responses: widen(responses),
    residual: 1.2 * Math.max(...residuals, scatter) || 1,
  };
}

/** Lowest and highest value with some room beyond, but for 0 at the lower end. */
function widen(values: readonly number[]): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = (high - low) / 20 || 1;
  return [low < 0 ? low - room : low, high + room];
}
