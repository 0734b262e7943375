import type { Calibration, FittedPoint, PredictedQuantity, Prediction } from '../calibration/index.js';
import { failOption } from '../core/index.js';

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
}

/** What a picture of a calibration shows, not yet scaled. */
export interface CalibrationModel {
  /** [amount unit] Ends of the axis of amounts. */
  readonly amounts: readonly [number, number];
  /** [response unit] Ends of the axis of responses. */
  readonly responses: readonly [number, number];
  /** [response unit] Largest residual to show, either side of 0. */
  readonly residual: number;
  /** [amount unit] Where the line is drawn. */
  readonly line: readonly [number, number];
  /** The unknowns. */
  readonly unknowns: readonly ShownUnknown[];
}

/** [response unit] The fitted line. */
export function lineAt({ slope, intercept }: Calibration, amount: number): number {
  return intercept.value + slope.value * amount;
}

/** [response unit] Half the width of the confidence band of the line: k sqrt(var a + 2 x cov + x² var b). */
export function bandAt({ slope, intercept, covariance, coverageFactor }: Calibration, amount: number): number {
  const variance =
    intercept.standardUncertainty * intercept.standardUncertainty +
    2 * amount * covariance +
    amount * amount * slope.standardUncertainty * slope.standardUncertainty;
  return coverageFactor * Math.sqrt(Math.max(0, variance));
}

/** Unknowns on the axis of the calibration. */
export function shownUnknowns(
  calibration: Calibration,
  unknowns: readonly { readonly name: string; readonly prediction: Prediction }[],
): ShownUnknown[] {
  return unknowns.map(({ name, prediction }) => {
    const response = prediction.meanResponse;
    if (prediction.outcome === 'not determinable') return { name, response, reason: prediction.reason };
    const quantity = calibration.quantity === 'amount injected' ? prediction.amount : prediction.concentration;
    if (quantity?.unit !== calibration.units.amount) {
      failOption(
        'renderCalibration',
        'unknowns',
        `predictions from this calibration, in ${calibration.units.amount}`,
        quantity?.unit ?? name,
      );
    }
    return { name, response, quantity };
  });
}

/** Ends of all axes: everything that was measured, zero, and a little room. */
export function calibrationModel(calibration: Calibration, unknowns: readonly ShownUnknown[]): CalibrationModel {
  const points: readonly FittedPoint[] = [...calibration.points, ...calibration.excluded];
  const read = unknowns.flatMap(({ quantity }) => (quantity === undefined ? [] : [quantity]));
  const highest = Math.max(...points.map(({ amount }) => amount), ...read.map(({ value }) => value), 0);
  const amounts = [0, ...points.map(({ amount }) => amount), ...read.map(({ value }) => value)];
  // An interval may be far wider than the line is long: it is drawn as far as the axis goes.
  for (const { interval } of read) {
    if (interval === undefined) continue;
    amounts.push(Math.min(interval.to, 1.3 * highest), Math.max(interval.from, -0.2 * highest));
  }
  const [first, last] = widen(amounts, 0.05);
  const from = Math.min(...amounts) < 0 ? first : 0;
  const responses = [
    0,
    ...points.map(({ response }) => response),
    ...unknowns.map(({ response }) => response),
    ...[from, last].map((amount) => lineAt(calibration, amount)),
  ];
  const residuals = calibration.points.map(({ residual }) => Math.abs(residual));
  const scatter = calibration.residualStandardDeviation * calibration.coverageFactor;
  return {
    amounts: [from, last],
    responses: widen(responses, 0.04),
    residual: Math.max(1.25 * Math.max(...residuals), 1.15 * scatter) || 1,
    line: [from, last],
    unknowns,
  };
}

function widen(values: readonly number[], share: number): [number, number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = (high - low) * share || Math.abs(high) * share || 1;
  return [low < 0 ? low - room : low, high + room];
}
