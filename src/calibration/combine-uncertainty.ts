import { coverageFactor } from '../numeric/index.js';
import { defined } from '../core/index.js';
import { createQuantity } from './predicted-quantities.js';
import type { BudgetEntry, DeterminedPrediction, PredictedQuantity, PreparationUncertainties } from './prediction.js';

/**
 * Adds the preparation to a measured quantity: squares of standard
 * uncertainties, degrees of freedom by Welch and Satterthwaite with those of the
 * preparation taken as infinite. Without preparation the quantity stays as it is.
 *
 * @see JCGM 100:2008 (Guide to the expression of uncertainty in measurement), 5.1.2 and G.4.1
 */
export function combineUncertainty(
  measured: PredictedQuantity,
  shareOfResponses: number,
  ownDegrees: number,
  confidence: number,
  preparation: PreparationUncertainties = {},
): Pick<DeterminedPrediction, 'result' | 'scope' | 'budget' | 'degreesOfFreedom' | 'coverageFactor'> {
  const { of, unit, value, standardUncertainty: u } = measured;
  const stated = Object.entries(defined(preparation)) as [keyof PreparationUncertainties, number][];
  const parts: [BudgetEntry['source'], number][] = [
    ['responses of the sample', u * Math.sqrt(shareOfResponses)],
    ['calibration line', u * Math.sqrt(1 - shareOfResponses)],
    ...stated.map(([source, percent]): [typeof source, number] => [source, (Math.abs(value) * percent) / 100]),
  ];
  const variance = parts.reduce((sum, [, part]) => sum + part * part, 0);
  const budget = parts
    .map(([source, part]) => ({ source, share: variance === 0 ? 0 : (100 * part * part) / variance }))
    .sort((a, b) => b.share - a.share);
  const measurementOnly = stated.length === 0;
  const ratio = u === 0 ? Infinity : variance / u / u;
  // a measured part of nothing leaves infinitely many; the largest number stands for it in plain data
  const degreesOfFreedom = measurementOnly ? ownDegrees : Math.min(ownDegrees * ratio * ratio, Number.MAX_VALUE);
  const factor = coverageFactor(confidence, degreesOfFreedom);
  const combined = { value, standardUncertainty: Math.sqrt(variance) };
  return {
    result: measurementOnly ? measured : createQuantity(of, unit, combined, 1, factor, 'delta'),
    scope: measurementOnly ? 'measurement only' : 'measurement and preparation',
    budget,
    degreesOfFreedom,
    coverageFactor: factor,
  };
}
