import { defined, resolveOptions, type Warning } from '../core/index.js';
import { coverageFactor, fUpperTail } from '../numeric/index.js';
import type { Calibration } from './calibration.js';
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
interface Cell {
  readonly component: string;
  /** Residual as a share of the line. */
  readonly deviation: number;
  /** (line / residual standard deviation)². */
  readonly weight: number;
  /** What the line has left of the injection: 1 minus the leverage. */
  readonly freedom: number;
  /** [volume unit] Volume that was meant. */
  readonly volume: number | undefined;
  /** [volume unit] Volume the line stands for; NaN when the volume is not known. */
  readonly volumeOnLine: number;
}

/** What the components of one injection have in common. */
interface Common {
  readonly injection: string;
  readonly cells: readonly Cell[];
  readonly weight: number;
  /** Weighted mean of the deviations. */
  readonly shared: number;
  /** Weighted sum of squares about it. */
  readonly own: number;
  /** Mean freedom. */
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
    const at = `calibrations[${i}]`;
    const same = calibrations.findIndex((each) => each.component === component);
    checkOption(caller, `${at}.component`, component, same === i, 'a name no other calibration has');
    checkOption(
      caller,
      `${at}.units.volume`,
      units.volume,
      units.volume === volumeUnit,
      `that of the first, ${volumeUnit}`,
    );
  });
  const warnings: Warning[] = [];
  const all = [...collect(calibrations, warnings)].map(([injection, cells]) => findCommon(injection, cells));
  const several = all.filter(({ cells }) => cells.length > 1);
  const total = (of: (each: Common) => number): number => several.reduce((sum, each) => sum + of(each), 0);
  let reason: string | undefined;
  if (several.length < 3)
    reason = 'Fewer than three injections are shared by two components, too few to tell common errors from others.';
  if (calibrations.length < 2)
    reason = 'With one component, an error of the injected volume cannot be told from any other error.';

  const degreesOfFreedom = total(({ cells, freedom }) => (cells.length - 1) * freedom);
  const variance = total(({ own }) => own) / degreesOfFreedom;
  const factor = reason === undefined ? coverageFactor(1 - (1 - confidence) / several.length, degreesOfFreedom) : 0;
  const injections = all.map((each) => describeInjection(each, reason, variance, factor, volumeUnit));
  if (reason !== undefined) {
    return { outcome: 'not separable', reason, volumeUnit, injections, confidence, warnings };
  }
  const found = injections.filter(({ significant }) => significant);
  if (found.length > 1) {
    // one bad injection pulls the lines and so moves the others
    const size = ({ shared, standardUncertainty }: InjectionDeviation): number =>
      Math.abs(shared!) / (standardUncertainty! || Number.MIN_VALUE);
    const worst = found.reduce((a, b) => (size(b) > size(a) ? b : a));
    warnings.push({
      code: 'shared-deviations-several',
      message: `${found.length} injections deviate significantly, and each moves the lines and so the others; ${worst.injection} stands out most: clear it up first.`,
    });
  }
  const freedom = total((each) => each.freedom);
  const ratio = total(({ shared, weight }) => shared * shared * weight) / freedom / variance;
  const probability = variance === 0 ? 0 : fUpperTail(ratio, freedom, degreesOfFreedom);
  return { outcome: 'separated', volumeUnit, injections, degreesOfFreedom, probability, confidence, warnings };
}

/** The usable points of all components, by injection. */
function collect(calibrations: readonly Calibration[], warnings: Warning[]): Map<string, Cell[]> {
  const found = new Map<string, Cell[]>();
  for (const { component = 'the component', points, residualStandardDeviation: s, slope } of calibrations) {
    const unused: number[] = [];
    for (const { row, injection = '', fitted, residual, volume, amount, leverage = 0 } of points) {
      const cells = found.get(injection) ?? [];
      if (injection === '' || fitted === 0 || s === 0 || cells.some((cell) => cell.component === component)) {
        unused.push(row);
        continue;
      }
      const cell: Cell = {
        component,
        deviation: residual / fitted,
        weight: (fitted / s) * (fitted / s),
        freedom: 1 - leverage,
        volume,
        volumeOnLine: (fitted / slope.value) * ((volume ?? NaN) / amount),
      };
      found.set(injection, [...cells, cell]);
    }
    if (unused.length > 0) {
      warnings.push({
        code: 'shared-deviations-points-unused',
        message: `${component}: point ${unused.join(', ')} could not be used: no name of the injection, one that came before, or a line without scatter or at 0.`,
      });
    }
  }
  return found;
}

function findCommon(injection: string, cells: readonly Cell[]): Common {
  const total = (of: (cell: Cell) => number): number => cells.reduce((sum, cell) => sum + of(cell), 0);
  const weight = total((cell) => cell.weight);
  const shared = total((cell) => cell.weight * cell.deviation) / weight;
  const own = total((cell) => cell.weight * (cell.deviation - shared) * (cell.deviation - shared));
  return { injection, cells, weight, shared, own, freedom: total((cell) => cell.freedom) / cells.length };
}

function describeInjection(
  { injection, cells, weight, shared, own, freedom }: Common,
  reason: string | undefined,
  variance: number,
  factor: number,
  volumeUnit: string,
): InjectionDeviation {
  const base = defined({
    injection,
    volume: cells.find(({ volume }) => volume !== undefined)?.volume,
    components: cells.map(({ component, deviation, weight: part }) => ({
      component,
      relativeResidual: 100 * deviation,
      weight: part / weight,
    })),
  });
  if (reason !== undefined || cells.length < 2) {
    return { ...base, significant: false, text: `${injection}: ${reason ?? 'Only one component.'}` };
  }
  const standardUncertainty = 100 * Math.sqrt((variance * freedom) / weight);
  const limit = factor * standardUncertainty;
  const significant = Math.abs(100 * shared) > limit;
  const volumeError = (shared * cells.reduce((sum, cell) => sum + cell.volumeOnLine, 0)) / cells.length;
  const known = Number.isFinite(volumeError);
  const found = `${signed(100 * shared)} % in common (standard uncertainty ${short(standardUncertainty, 2)} %, significant from ${short(limit, 2)} %)`;
  return defined({
    ...base,
    shared: 100 * shared,
    standardUncertainty,
    spread: 100 * Math.sqrt(((own / weight) * cells.length) / (cells.length - 1)),
    significant,
    volumeError: known ? volumeError : undefined,
    text: significant
      ? `${injection}: all ${cells.length} components deviate together, ${found}: an error of the injected volume of ${signed(100 * shared)} %${known ? `, ${signed(volumeError)} ${volumeUnit}` : ''}.`
      : `${injection}: ${found}; no error of the injected volume can be made out.`,
  });
}

function signed(value: number): string {
  return `${value < 0 ? '−' : '+'}${short(Math.abs(value), 2)}`;
}
