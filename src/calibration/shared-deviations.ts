import { failOption, resolveOptions, type Warning } from '../core/index.js';
import { coverageFactor, fUpperTail, studentTUpperTail } from '../numeric/index.js';
import type { Calibration, FittedPoint } from './calibration.js';
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

/** One component in one injection. */
interface Cell {
  readonly component: string;
  readonly point: FittedPoint;
  /** Residual over the residual standard deviation of its line. */
  readonly standardised: number;
  /** Line over the residual standard deviation: what a deviation of 100 % would be in the same measure. */
  readonly size: number;
  /** [volume unit] Volume the line stands for, when known. */
  readonly volumeOnLine?: number;
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
  const { confidence } = resolveOptions('sharedDeviations', defaults, options);
  check(calibrations, confidence);
  const volumeUnit = calibrations[0]!.units.volume;
  const warnings: Warning[] = [];
  const cells = collect(calibrations, warnings);
  const several = [...cells.values()].filter((each) => each.length > 1);
  const alone = (reason: string): SharedDeviations => ({
    outcome: 'not separable',
    reason,
    volumeUnit,
    injections: [...cells].map(([injection, each]) => ({
      ...describeCells(injection, each),
      significant: false,
      text: `${injection}: ${reason}`,
    })),
    confidence,
    warnings,
  });
  if (calibrations.length < 2) {
    return alone('With one component, an error of the injected volume cannot be told from any other error.');
  }
  if (several.length < 3) {
    return alone(
      'Fewer than three injections are shared by two components, too few to tell common errors from others.',
    );
  }

  let own = 0;
  let common = 0;
  let degreesOfFreedom = 0;
  for (const each of several) {
    const { shared, weight } = commonPart(each);
    own += each.reduce((sum, cell) => sum + square(cell.standardised - shared * cell.size), 0);
    common += shared * shared * weight;
    degreesOfFreedom += (each.length - 1) * freedom(each);
  }
  const freedomOfCommon = several.reduce((sum, each) => sum + freedom(each), 0);
  const variance = own / degreesOfFreedom;
  const level = (1 - confidence) / several.length;
  const injections = [...cells].map(([injection, each]): InjectionDeviation => {
    const base = describeCells(injection, each);
    if (each.length < 2) {
      return {
        ...base,
        significant: false,
        text: `${injection}: only one component; nothing can be said of the volume.`,
      };
    }
    return judge(base, each, { variance, degreesOfFreedom, level, volumeUnit });
  });
  warnings.push(...doubtSeveral(injections));
  const probability =
    variance === 0 ? 0 : fUpperTail(common / freedomOfCommon / variance, freedomOfCommon, degreesOfFreedom);
  return { outcome: 'separated', volumeUnit, injections, degreesOfFreedom, probability, confidence, warnings };
}

/** One bad injection pulls the lines and so moves the others: judge the worst first. */
function doubtSeveral(injections: readonly InjectionDeviation[]): Warning[] {
  const found = injections.filter((each) => each.significant);
  if (found.length < 2) return [];
  const weight = (each: InjectionDeviation): number =>
    Math.abs(each.shared! / (each.standardUncertainty! || Number.MIN_VALUE));
  const worst = found.reduce((a, b) => (weight(b) > weight(a) ? b : a));
  return [
    {
      code: 'shared-deviations-several',
      message: `${found.length} injections deviate significantly. Each pulls the lines and so moves the others; ${worst.injection} stands out most: clear it up first, and fit again without it if there is a reason to leave it out.`,
    },
  ];
}

function check(calibrations: readonly Calibration[], confidence: number): void {
  const caller = 'sharedDeviations';
  if (!(confidence > 0 && confidence < 1)) failOption(caller, 'confidence', 'between 0 and 1', confidence);
  if (calibrations.length === 0) failOption(caller, 'calibrations', 'at least one calibration', calibrations);
  const names = new Set<string>();
  calibrations.forEach(({ component, units }, i) => {
    if (calibrations.length > 1 && (component === undefined || names.has(component))) {
      failOption(caller, `calibrations[${i}].component`, 'a name no other calibration has', component);
    }
    names.add(component ?? '');
    if (units.volume !== calibrations[0]!.units.volume) {
      failOption(caller, `calibrations[${i}].units.volume`, calibrations[0]!.units.volume, units.volume);
    }
  });
}

function collect(calibrations: readonly Calibration[], warnings: Warning[]): Map<string, Cell[]> {
  const cells = new Map<string, Cell[]>();
  for (const calibration of calibrations) {
    const component = calibration.component ?? 'the component';
    const s = calibration.residualStandardDeviation;
    const unused: number[] = [];
    const seen = new Set<string>();
    for (const point of calibration.points) {
      const { injection, fitted, residual, volume, amount } = point;
      if (injection === undefined || seen.has(injection) || point.relativeResidual === undefined || s === 0) {
        unused.push(point.row);
        continue;
      }
      seen.add(injection);
      const slope = calibration.slope.value;
      const known = volume !== undefined && amount > 0 && slope !== 0;
      const cell: Cell = {
        component,
        point,
        standardised: residual / s,
        size: fitted / s,
        ...(known ? { volumeOnLine: (fitted / slope) * (volume / amount) } : {}),
      };
      cells.set(injection, [...(cells.get(injection) ?? []), cell]);
    }
    if (unused.length > 0) {
      warnings.push({
        code: 'shared-deviations-points-unused',
        message: `${component}: point ${unused.join(', ')} could not be used: no name of the injection, one that came before, or a line without scatter or at 0.`,
      });
    }
  }
  return cells;
}

function commonPart(cells: readonly Cell[]): { shared: number; weight: number } {
  const weight = cells.reduce((sum, { size }) => sum + size * size, 0);
  return { shared: cells.reduce((sum, { size, standardised }) => sum + size * standardised, 0) / weight, weight };
}

/** What the lines have left of this injection: 1 minus the mean leverage. */
function freedom(cells: readonly Cell[]): number {
  return cells.reduce((sum, { point }) => sum + (1 - (point.leverage ?? 0)) / cells.length, 0);
}

function describeCells(
  injection: string,
  cells: readonly Cell[],
): Pick<InjectionDeviation, 'injection' | 'volume' | 'components'> {
  const { weight } = commonPart(cells);
  const volume = cells.find(({ point }) => point.volume !== undefined)?.point.volume;
  return {
    injection,
    ...(volume === undefined ? {} : { volume }),
    components: cells.map(({ component, point, size }) => ({
      component,
      relativeResidual: point.relativeResidual!,
      weight: (size * size) / weight,
    })),
  };
}

function judge(
  base: Pick<InjectionDeviation, 'injection' | 'volume' | 'components'>,
  cells: readonly Cell[],
  set: { variance: number; degreesOfFreedom: number; level: number; volumeUnit: string },
): InjectionDeviation {
  const { shared, weight } = commonPart(cells);
  const uncertainty = Math.sqrt((set.variance * freedom(cells)) / weight);
  const significant =
    uncertainty === 0
      ? shared !== 0
      : 2 * studentTUpperTail(Math.abs(shared) / uncertainty, set.degreesOfFreedom) < set.level;
  const scatter = base.components.reduce(
    (sum, each) => sum + each.weight * square(each.relativeResidual - 100 * shared),
    0,
  );
  const volumes = cells.flatMap(({ volumeOnLine }) => volumeOnLine ?? []);
  const volumeError =
    volumes.length === cells.length
      ? (shared * volumes.reduce((sum, each) => sum + each, 0)) / volumes.length
      : undefined;
  const limit = 100 * uncertainty * coverageFactor(1 - set.level, set.degreesOfFreedom);
  const found = `${signed(100 * shared)} % in common (standard uncertainty ${short(100 * uncertainty, 2)} %, significant from ${short(limit, 2)} %)`;
  const volume = volumeError === undefined ? '' : `, ${signed(volumeError)} ${set.volumeUnit}`;
  return {
    ...base,
    shared: 100 * shared,
    standardUncertainty: 100 * uncertainty,
    spread: Math.sqrt((scatter * cells.length) / (cells.length - 1)),
    significant,
    ...(volumeError === undefined ? {} : { volumeError }),
    text: significant
      ? `${base.injection}: all ${cells.length} components deviate together, ${found}: an error of the injected volume of ${signed(100 * shared)} %${volume}.`
      : `${base.injection}: ${found}; no error of the injected volume can be made out.`,
  };
}

function signed(value: number): string {
  return `${value < 0 ? '−' : '+'}${short(Math.abs(value), 2)}`;
}

function square(x: number): number {
  return x * x;
}
