import { defined, failOption, resolveOptions } from '../core/index.js';
import { coverageFactor, fUpperTail } from '../numeric/index.js';
import type { Calibration, FittedPoint } from './calibration.js';
import { checkConfidence } from './check-options.js';
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
 *   with `injection` on their points. Points left out have no part, nor have points
 *   without the name of an injection, the second of one name, and lines without scatter.
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
  checkConfidence(caller, 'confidence', confidence);
  const components = new Set(calibrations.map(({ component }) => component));
  const [volumeUnit = '', otherUnit] = new Set(calibrations.map(({ units }) => units.volume));
  if (components.size !== calibrations.length || volumeUnit === '' || otherUnit !== undefined) {
    failOption(caller, 'calibrations', 'of different components, in one unit of volume', [...components].join(', '));
  }
  const cells = calibrations.flatMap(cellsOf);
  const names = [...new Set(cells.map(({ injection }) => injection))];
  const all = names.map((name) => findCommon(cells.filter(({ injection }) => injection === name)));
  const several = all.filter(({ others }) => others > 0);
  const separable = several.length > 2;
  const freedom = sum(several, (each) => each.freedom);
  const degreesOfFreedom = sum(several, (each) => each.others * each.freedom);
  const variance = sum(several, ({ scatter }) => scatter) / degreesOfFreedom;
  const common = sum(several, ({ shared, weight }) => shared * shared * weight) / freedom;
  const t = separable ? coverageFactor(1 - (1 - confidence) / several.length, degreesOfFreedom) : NaN;
  const injections = all.map(({ seen, shared, volumeError, weight, others, ...each }): InjectionDeviation => {
    if (!separable || others === 0) return { ...seen, significant: false };
    const standardUncertainty = Math.sqrt((variance * each.freedom) / weight);
    const significant = Math.abs(shared) > t * standardUncertainty;
    return defined({ ...seen, shared, standardUncertainty, significant, volumeError });
  });
  const worst = injections
    .filter(({ significant }) => significant)
    .map(({ injection, shared = 0 }) => `${injection} (${short(shared)} %)`);
  const unused = sum(calibrations, ({ points }) => points.length) - cells.length;
  const left = unused === 0 ? '' : ` ${unused} points could not be used.`;
  const result = { volumeUnit, injections, confidence };
  if (!separable) {
    const text = `Not to be told from other errors: two components must share three injections.${left}`;
    return { ...result, outcome: 'not separable', text };
  }
  const found =
    worst.length === 0
      ? 'No error of an injected volume can be made out.'
      : `Error of the injected volume: ${worst.join(', ')}. Clear up the largest first; it moves the others.`;
  return {
    ...result,
    outcome: 'separated',
    text: found + left,
    degreesOfFreedom,
    probability: variance === 0 ? 0 : fUpperTail(common / variance, freedom, degreesOfFreedom),
  };
}

/** One component in one injection. */
interface Cell extends Required<Pick<FittedPoint, 'injection' | 'relativeResidual' | 'leverage'>> {
  readonly component: string;
  readonly volume: number | undefined;
  /** (line / residual standard deviation)². */
  readonly weight: number;
  /** [volume unit] The residual as a volume; NaN when the volume is not known. */
  readonly volumeError: number;
}

/** The usable points of a component. */
function cellsOf({ component = 'the component', points, residualStandardDeviation: s, slope }: Calibration): Cell[] {
  return points.flatMap(({ injection, volume, amount, fitted, residual, relativeResidual, leverage = 0 }, i) => {
    const first = points.findIndex((each) => each.injection === injection) === i;
    if (injection === undefined || !first || relativeResidual === undefined || s === 0) return [];
    const weight = (fitted / s) * (fitted / s);
    const volumeError = (residual / slope.value / amount) * (volume ?? NaN);
    return [{ component, injection, volume, relativeResidual, leverage, weight, volumeError }];
  });
}

/** What the components of one injection have in common. */
interface Common {
  readonly seen: Pick<InjectionDeviation, 'injection' | 'volume' | 'components'>;
  /** Number of components less 1. */
  readonly others: number;
  readonly weight: number;
  /** [%] Weighted mean of the relative residuals. */
  readonly shared: number;
  /** [volume unit] The same as a volume, when that is known. */
  readonly volumeError: number | undefined;
  /** [%²] Weighted sum of their squared distances from it. */
  readonly scatter: number;
  /** [-] What the lines have left of the injection: 1 minus the mean leverage. */
  readonly freedom: number;
}

function findCommon(cells: readonly Cell[]): Common {
  const { injection, volume } = cells[0]!;
  const weight = sum(cells, (cell) => cell.weight);
  const mean = (of: (cell: Cell) => number): number => sum(cells, (cell) => cell.weight * of(cell)) / weight;
  const shared = mean((cell) => cell.relativeResidual);
  const volumeError = mean((cell) => cell.volumeError);
  const components = cells.map(({ component, relativeResidual, weight: own }) => ({
    component,
    relativeResidual,
    weight: own / weight,
  }));
  return {
    seen: defined({ injection, volume, components }),
    others: cells.length - 1,
    weight,
    shared,
    volumeError: Number.isFinite(volumeError) ? volumeError : undefined,
    scatter: weight * mean(({ relativeResidual: own }) => (own - shared) * (own - shared)),
    freedom: 1 - sum(cells, ({ leverage }) => leverage) / cells.length,
  };
}

function sum<T>(list: readonly T[], of: (each: T) => number): number {
  return list.reduce((total, each) => total + of(each), 0);
}
