import { lowerBoundOf, type Analysis } from '../analysis/index.js';
import { checkOneOf, defined, failOption, resolveOptions, type Warning } from '../core/index.js';
import type { CalibrationPoint } from './calibration-point.js';

/**
 * A run of a standard with what was injected, stated as in {@link CalibrationPoint}.
 *
 * @public
 */
export interface StandardInjection extends Omit<CalibrationPoint, 'response'> {
  /** The run, its peaks named. */
  readonly analysis: Analysis;
}

/**
 * Points for {@link fitCalibration}.
 *
 * @public
 */
export interface CollectedPoints {
  /** One point for each run that has the peak. */
  readonly points: readonly CalibrationPoint[];
  /** Unit of the responses. */
  readonly responseUnit: string;
  /** Runs without the peak and peaks left out. */
  readonly warnings: readonly Warning[];
}

/**
 * Options of {@link collectPoints}.
 *
 * @public
 */
export interface CollectPointsOptions {
  /**
   * What to take from the peaks.
   *
   * @defaultValue 'area'
   */
  readonly responseKind?: 'area' | 'height';
}

const defaults: Required<CollectPointsOptions> = { responseKind: 'area' };

const caller = 'collectPoints';

/**
 * Takes the areas of one component out of the runs of standards. A run without
 * a peak of that name gives no point; a peak cut off by an end of the record,
 * one in which the detector was saturated, and one beyond the linear range that the method states, is left out of the fit,
 * because its area is a lower bound. Each has a warning. The name of the run serves as
 * `injection` when none is stated.
 *
 * @param component - Name of the component, as given by {@link identifyPeaks}.
 * @param injections - Runs and what was injected; read, never changed.
 * @param options - Area or height.
 *
 * @throws {@link PeakwrightError} `option-invalid` when there are no runs or their
 *   responses are in different units, `option-unknown`.
 *
 * @public
 */
export function collectPoints(
  component: string,
  injections: readonly StandardInjection[],
  options: CollectPointsOptions = {},
): CollectedPoints {
  const { responseKind } = resolveOptions(caller, defaults, options);
  checkOneOf(caller, 'responseKind', responseKind, ['area', 'height']);
  const unitOf = ({ units }: Analysis): string => units[responseKind === 'area' ? 'area' : 'signal'];
  if (injections.length === 0) failOption(caller, 'injections', 'at least one run', injections);
  const responseUnit = unitOf(injections[0]!.analysis);
  const warnings: Warning[] = [];
  const points = injections.flatMap(({ analysis, ...stated }, i): CalibrationPoint[] => {
    const unit = unitOf(analysis);
    if (unit !== responseUnit) failOption(caller, `injections[${i}]`, `in ${responseUnit}, as the first run`, unit);
    const { name, file } = analysis.trace.meta;
    const injection = stated.injection ?? name ?? file;
    const peak = analysis.peaks.find((each) => each.name === component);
    const reason = peak === undefined ? 'no peak, so no point' : lowerBoundOf(peak, analysis);
    if (reason !== undefined) {
      const code = `collect-peak-${peak === undefined ? 'missing' : 'left-out'}`;
      const message = `${component} in ${injection ?? `run ${i + 1}`}: ${reason}.`;
      warnings.push(defined({ code, message, at: peak?.retentionTime }));
    }
    const excluded = reason === undefined ? undefined : { reason };
    return peak === undefined ? [] : [defined({ excluded, ...stated, response: peak[responseKind], injection })];
  });
  return { points, responseUnit, warnings };
}
