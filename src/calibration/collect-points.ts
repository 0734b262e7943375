import type { Analysis, Peak } from '../analysis/index.js';
import { defined, resolveOptions, type Warning } from '../core/index.js';
import type { CalibrationPoint } from './calibration-point.js';
import { checkChoice, checkOption } from './check-options.js';

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
 * a peak of that name gives no point; a peak cut off by an end of the record, or
 * in which the detector was saturated, is left out of the fit. Each has a warning. The name of the run serves as
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
  checkChoice(caller, 'responseKind', responseKind, ['area', 'height']);
  checkOption(caller, 'injections', injections, injections.length > 0, 'at least one run');
  const unitOf = ({ units }: Analysis): string => (responseKind === 'area' ? units.area : units.signal);
  const responseUnit = unitOf(injections[0]!.analysis);
  const warnings: Warning[] = [];
  const points = injections.flatMap(({ analysis, ...stated }, i): CalibrationPoint[] => {
    const { name, file } = analysis.trace.meta;
    const injection = stated.injection ?? name ?? file;
    const run = injection ?? `run ${i + 1}`;
    const unit = unitOf(analysis);
    checkOption(caller, `injections[${i}]`, unit, unit === responseUnit, `in ${responseUnit}, as the first run`);
    const peak = analysis.peaks.find((each) => each.name === component);
    if (peak === undefined) {
      const message = `${run} has no peak named ${component} and gives no point.`;
      warnings.push({ code: 'collect-peak-missing', message });
      return [];
    }
    const point = defined({ ...stated, response: peak[responseKind], injection });
    const reason = unusable(peak, analysis);
    if (stated.excluded !== undefined || reason === undefined) return [point];
    const message = `${component} in ${run} was left out: ${reason}.`;
    warnings.push({ code: 'collect-peak-left-out', message, at: peak.retentionTime });
    return [{ ...point, excluded: { reason } }];
  });
  return { points, responseUnit, warnings };
}

/** Why the area of a peak is no measure of the amount. */
function unusable(peak: Peak, { disturbances }: Analysis): string | undefined {
  if (peak.startKind === 'cut off' || peak.endKind === 'cut off') return 'the peak is cut off by an end of the record';
  return disturbances.some(({ kind, start, end }) => kind === 'saturation' && start < peak.end && end > peak.start)
    ? 'the detector was saturated in the peak'
    : undefined;
}
