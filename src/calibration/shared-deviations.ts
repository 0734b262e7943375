import { defined, resolveOptions, type Warning } from '../core/index.js';
import { coverageFactor, fUpperTail } from '../numeric/index.js';
import type { Calibration, FittedPoint } from './calibration.js';
import { checkConfidence, checkOption } from './check-options.js';
import type { InjectionDeviation, SharedDeviations } from './injection-deviation.js';
import { short } from './number-text.js';

/**
 * Options of {@link sharedDeviations}.
 *
 * @public
 */
export interface SharedDeviationsOptions {
  /**
   * [-] Confidence of the verdicts, for the set of injections as a whole.
   *
   * @defaultValue 0.95
   */
  readonly confidence?: number;
}

const defaults: Required<SharedDeviationsOptions> = { confidence: 0.95 };

const caller = 'sharedDeviations';

/** One component in one injection. */
interface Cell extends FittedPoint {
  readonly component: string;
  /** (line / residual standard deviation)². */
  readonly weight: number;
  /** [volume unit] The residual as a volume; NaN when the volume is not known. */
  readonly volumeError: number;
}

/** What the components of one injection have in common. */
interface Common {
  readonly cells: readonly Cell[];
  readonly weight: number;
  /** [%] Weighted mean of the relative residuals. */
  readonly shared: number;
  /** [%²] Weighted mean of their squared distances from it. */
  readonly scatter: number;
  /** [-] What the lines have left of the injection: 1 minus the mean leverage. */
  readonly freedom: number;
}

/**
 * Separates what the components of one injection have in common from what each
 * does on its own. A wrong injected volume moves all components by the same
 * percentage; an error of integration or a curved line moves one.
 *
 * For each injection the common part is the mean of the relative residuals,
 * weighted by (line / residual standard deviation)². What is left over, in all
 * injections together, gives the uncertainty, with (n - 2)(k - 1) degrees of
 * freedom for k components in n injections. A common part is called significant
 * when it would be so by chance in less than 1 - confidence of whole sets: the
 * level of one injection is divided by their number. The line has given way to
 * the injection by its leverage, so the true error is somewhat larger.
 *
 * Components must have been integrated independently: a pair split by one
 * divider, or two peaks on one shared baseline, have errors in common that are
 * not of the injection.
 *
 * @param calibrations - One for each component, from {@link fitCalibration},
 *   with `injection` on their points; points left out have no part.
 * @param options - Confidence; see {@link SharedDeviationsOptions}.
 *
 * @returns The injections with their common parts, or `'not separable'` with the
 *   reason when fewer than two components share three injections.
 *
 * @throws {@link PeakwrightError} `option-invalid` when no calibration is given,
 *   two have the same component, or volume units differ; `option-unknown`.
 *
 * @public
 */
export function sharedDeviations(
  calibrations: readonly Calibration[],
  options: SharedDeviationsOptions = {},
): SharedDeviations {
  const { confidence } = resolveOptions(caller, defaults, options);
  checkConfidence(caller, confidence);
  checkOption(caller, 'calibrations', calibrations, calibrations.length > 0, 'at least one calibration');
  const volumeUnit = calibrations[0]!.units.volume;
  calibrations.forEach(({ component, units }, i) => {
    const alone = calibrations.findIndex((each) => each.component === component) === i;
    const expected = `of a component no other calibration has, with volumes in ${volumeUnit}`;
    checkOption(caller, `calibrations[${i}]`, component, alone && units.volume === volumeUnit, expected);
  });
  const cells = calibrations.flatMap(cellsOf);
  const names = new Set(cells.map(({ injection }) => injection));
  const all = [...names].map((name) => findCommon(cells.filter(({ injection }) => injection === name)));
  const several = all.filter((each) => each.cells.length > 1);
  const warnings: Warning[] = [];
  const unused = sum(calibrations, ({ points }) => points.length) - cells.length;
  if (unused > 0) {
    const message = `${unused} points could not be used: no name of the injection, a name twice, or a line without scatter or at 0.`;
    warnings.push({ code: 'shared-deviations-points-unused', message });
  }
  if (several.length < 3) {
    const reason =
      calibrations.length < 2
        ? 'With one component, an error of the injected volume cannot be told from any other.'
        : 'Fewer than three injections are shared by two components.';
    const injections = all.map((each) => describeAlone(each, reason));
    return { outcome: 'not separable', reason, volumeUnit, injections, confidence, warnings };
  }
  const freedom = sum(several, (each) => each.freedom);
  const degreesOfFreedom = sum(several, (each) => (each.cells.length - 1) * each.freedom);
  const variance = sum(several, ({ scatter, weight }) => scatter * weight) / degreesOfFreedom;
  const common = sum(several, ({ shared, weight }) => shared * shared * weight) / freedom;
  const t = coverageFactor(1 - (1 - confidence) / several.length, degreesOfFreedom);
  const injections = all.map((each) => judge(each, variance, t, volumeUnit));
  if (injections.filter(({ significant }) => significant).length > 1) {
    const message =
      'Several injections deviate significantly, and each moves the lines and so the others; clear up the worst first.';
    warnings.push({ code: 'shared-deviations-several', message });
  }
  const probability = variance === 0 ? 0 : fUpperTail(common / variance, freedom, degreesOfFreedom);
  return { outcome: 'separated', volumeUnit, injections, degreesOfFreedom, probability, confidence, warnings };
}

/** The usable points of a component. */
function cellsOf({ component = 'the component', points, residualStandardDeviation: s, slope }: Calibration): Cell[] {
  return points.flatMap((point, i) => {
    const { injection, fitted, residual, amount, volume = NaN } = point;
    const first = points.findIndex((each) => each.injection === injection) === i;
    if (injection === undefined || !first || fitted === 0 || s === 0) return [];
    const volumeError = (residual / slope.value / amount) * volume;
    return [{ ...point, component, weight: (fitted / s) * (fitted / s), volumeError }];
  });
}

function findCommon(cells: readonly Cell[]): Common {
  const weight = sum(cells, (cell) => cell.weight);
  const shared = sum(cells, (cell) => cell.weight * cell.relativeResidual!) / weight;
  const scatter = sum(cells, (cell) => cell.weight * square(cell.relativeResidual! - shared)) / weight;
  return { cells, weight, shared, scatter, freedom: 1 - sum(cells, ({ leverage = 0 }) => leverage) / cells.length };
}

function describeAlone({ cells, weight: all }: Common, reason: string): InjectionDeviation {
  const { injection = '', volume } = cells[0]!;
  const components = cells.map(({ component, relativeResidual, weight }) => ({
    component,
    relativeResidual: relativeResidual!,
    weight: weight / all,
  }));
  return defined({ injection, volume, components, significant: false, text: `${injection}: ${reason}` });
}

function judge(common: Common, variance: number, t: number, volumeUnit: string): InjectionDeviation {
  const { cells, shared, weight, freedom } = common;
  const count = cells.length;
  const alone = describeAlone(common, 'Only one component.');
  if (count < 2) return alone;
  const standardUncertainty = Math.sqrt((variance * freedom) / weight);
  const limit = t * standardUncertainty;
  const significant = Math.abs(shared) > limit;
  const volumeError = sum(cells, (cell) => cell.weight * cell.volumeError) / weight;
  const known = Number.isFinite(volumeError);
  const inVolume = known ? `, ${signed(volumeError)} ${volumeUnit}` : '';
  const verdict = significant
    ? `an error of the injected volume${inVolume}`
    : 'no error of the injected volume can be made out';
  return defined({
    ...alone,
    shared,
    standardUncertainty,
    significant,
    volumeError: known ? volumeError : undefined,
    text: `${alone.injection}: ${signed(shared)} % in common to ${count} components, significant from ${short(limit, 2)} %: ${verdict}.`,
  });
}

function signed(value: number): string {
  return `${value < 0 ? '−' : '+'}${short(Math.abs(value), 2)}`;
}

function sum<T>(list: readonly T[], of: (each: T) => number): number {
  return list.reduce((total, each) => total + of(each), 0);
}

function square(x: number): number {
  return x * x;
}
