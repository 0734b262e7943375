import { lowerBoundOf, type Analysis } from '../analysis/index.js';
import { checkOneOf, failOption, resolveOptions, type Warning } from '../core/index.js';
import type { CollectPointsOptions } from './collect-points.js';

/**
 * Responses of an unknown for {@link predictAmount}.
 *
 * @public
 */
export interface CollectedResponses {
  /** [response unit] One response for each run that has the peak. */
  readonly responses: readonly number[];
  /** Unit of the responses. */
  readonly responseUnit: string;
  /** Which of them are lower bounds and why; to be handed on to {@link predictAmount}. */
  readonly lowerBounds: readonly string[];
  /** Runs without the peak. */
  readonly warnings: readonly Warning[];
}

const defaults: Required<CollectPointsOptions> = { responseKind: 'area' };

const caller = 'collectResponses';

/**
 * Takes the areas of one component out of the runs of an unknown, and says which of them are lower bounds: the peak is
 * cut off by an end of the record, the detector was saturated, or the signal goes beyond the linear range that the method
 * states. Such an area is not left out, because the amount is at least what it says.
 *
 * @param component - Name of the component, as given by {@link identifyPeaks}.
 * @param analyses - The runs; read, never changed.
 * @param options - Area or height; see {@link CollectPointsOptions}.
 *
 * @returns The responses in the order of the runs, without those of runs that do not have the peak, which have a warning.
 *
 * @throws {@link PeakwrightError} `option-invalid` when there are no runs or their
 *   responses are in different units, `option-unknown`.
 *
 * @example
 * ```ts
 * const peak = { shape: 'gaussian', retentionTime: 6, height: 1500, sigma: 0.05 };
 * const { trace } = simulateTrace({ duration: 10, interval: 0.2, noise: { white: 0.05 }, peaks: [peak], seed: 1 });
 * const components = [{ name: 'vanillin', retentionTime: 6, window: 0.1 }];
 * const runs = [analyse(trace, { components, linearUpTo: 1000 })];
 * collectResponses('vanillin', runs).lowerBounds.length; // => 1
 * ```
 *
 * @public
 */
export function collectResponses(
  component: string,
  analyses: readonly Analysis[],
  options: CollectPointsOptions = {},
): CollectedResponses {
  const { responseKind } = resolveOptions(caller, defaults, options);
  checkOneOf(caller, 'responseKind', responseKind, ['area', 'height']);
  const unitOf = ({ units }: Analysis): string => units[responseKind === 'area' ? 'area' : 'signal'];
  if (analyses.length === 0) failOption(caller, 'analyses', 'at least one run', analyses);
  const responseUnit = unitOf(analyses[0]!);
  const lowerBounds: string[] = [];
  const warnings: Warning[] = [];
  const responses = analyses.flatMap((analysis, i) => {
    const unit = unitOf(analysis);
    if (unit !== responseUnit) failOption(caller, `analyses[${i}]`, `in ${responseUnit}, as the first run`, unit);
    const { name, file } = analysis.trace.meta;
    const run = name ?? file ?? `run ${i + 1}`;
    const peak = analysis.peaks.find((each) => each.name === component);
    if (peak === undefined) {
      warnings.push({ code: 'collect-peak-missing', message: `${component} in ${run}: no peak, so no response.` });
      return [];
    }
    const reason = lowerBoundOf(peak, analysis);
    if (reason !== undefined) lowerBounds.push(`${run}: ${reason}`);
    return [peak[responseKind]];
  });
  return { responses, responseUnit, lowerBounds, warnings };
}
