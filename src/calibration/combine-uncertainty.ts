import { coverageFactor } from '../numeric/index.js';
import type { BudgetEntry, DeterminedPrediction, PredictedQuantity, PreparationUncertainties } from './prediction.js';

/** What {@link combineUncertainty} needs besides the measured quantity. */
export interface CombinationParts {
  /** Share of the measured variance that comes from the responses. */
  readonly shareOfResponses: number;
  readonly degreesOfFreedom: number;
  readonly preparation: PreparationUncertainties | undefined;
  readonly confidence: number;
}

/**
 * Adds the preparation to a measured quantity: squares of standard
 * uncertainties, degrees of freedom by Welch and Satterthwaite with those of the
 * preparation taken as infinite. Without preparation the quantity stays as it is.
 *
 * @see JCGM 100:2008 (Guide to the expression of uncertainty in measurement), 5.1.2 and G.4.1
 */
export function combineUncertainty(
  measured: PredictedQuantity,
  { shareOfResponses, degreesOfFreedom, preparation, confidence }: CombinationParts,
): Pick<DeterminedPrediction, 'result' | 'scope' | 'budget' | 'degreesOfFreedom' | 'coverageFactor'> {
  const u = measured.standardUncertainty;
  const parts: Pick<BudgetEntry, 'source' | 'standardUncertainty'>[] = [
    { source: 'responses of the sample', standardUncertainty: u * Math.sqrt(shareOfResponses) },
    { source: 'calibration line', standardUncertainty: u * Math.sqrt(1 - shareOfResponses) },
  ];
  const stated = (Object.entries(preparation ?? {}) as [keyof PreparationUncertainties, number | undefined][]).flatMap(
    ([source, percent]) =>
      percent === undefined ? [] : [{ source, standardUncertainty: (Math.abs(measured.value) * percent) / 100 }],
  );
  parts.push(...stated);
  const variance = parts.reduce((sum, part) => sum + square(part.standardUncertainty), 0);
  const budget = parts
    .map((part) => (variance === 0 ? part : { ...part, share: (100 * square(part.standardUncertainty)) / variance }))
    .sort((a, b) => b.standardUncertainty - a.standardUncertainty);
  if (stated.length === 0) {
    const factor = coverageFactor(confidence, degreesOfFreedom);
    return { result: measured, scope: 'measurement only', budget, degreesOfFreedom, coverageFactor: factor };
  }
  const combined = Math.sqrt(variance);
  const ratio = u === 0 ? Infinity : square(square(combined / u));
  // a measured part of nothing leaves infinitely many; the largest number stands for it in plain data
  const effective = Math.min(degreesOfFreedom * ratio, Number.MAX_VALUE);
  const factor = coverageFactor(confidence, effective);
  const { value, of, unit } = measured;
  const delta = { from: value - factor * combined, to: value + factor * combined, method: 'delta' as const };
  const result: PredictedQuantity = {
    of,
    value,
    unit,
    standardUncertainty: combined,
    ...(value === 0 ? {} : { relativeStandardUncertainty: (100 * combined) / Math.abs(value) }),
    interval: delta,
    intervals: { delta },
  };
  return { result, scope: 'measurement and preparation', budget, degreesOfFreedom: effective, coverageFactor: factor };
}

function square(x: number): number {
  return x * x;
}
