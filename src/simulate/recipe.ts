import { failOption, nearest, PeakwrightError } from '../core/index.js';

/**
 * One peak of a recipe: a Gaussian, or an exponentially modified Gaussian. Either
 * its height or its area is given, not both.
 *
 * @public
 */
export interface PeakRecipe {
  /** `'gaussian'`, or `'emg'` with a `tau`. */
  readonly shape: 'gaussian' | 'emg';
  /**
   * Name of the component.
   *
   * @defaultValue none
   */
  readonly name?: string;
  /** [min] Position of the apex. */
  readonly retentionTime: number;
  /**
   * [signal unit] Height of the apex; negative for a peak that points down.
   *
   * @defaultValue what the area gives
   */
  readonly height?: number;
  /**
   * [signal unit s] Whole area, also where it lies outside the record.
   *
   * @defaultValue what the height gives
   */
  readonly area?: number;
  /** [min] Standard deviation of the Gaussian part. */
  readonly sigma: number;
  /**
   * [min] Time constant of the exponential part: above 0 tails, below 0 fronts. Required for `'emg'`.
   *
   * @defaultValue none: a Gaussian has none
   */
  readonly tau?: number;
}

/**
 * A bump that is no peak of a component, for example of injected air at the
 * hold-up time; a Gaussian of either sign.
 *
 * @public
 */
export interface BumpRecipe {
  /** [min] Position of its extreme. */
  readonly time: number;
  /** [signal unit] Height; negative for a dip. */
  readonly height: number;
  /** [min] Standard deviation. */
  readonly sigma: number;
}

/**
 * The level below the peaks, a straight line.
 *
 * @public
 */
export interface BaselineRecipe {
  /**
   * [signal unit] Level at time 0.
   *
   * @defaultValue 0
   */
  readonly offset?: number;
  /**
   * [signal unit/h] Slope.
   *
   * @defaultValue 0
   */
  readonly drift?: number;
}

/**
 * Normal noise of two kinds; both may be present.
 *
 * @public
 */
export interface NoiseRecipe {
  /**
   * [signal unit] Standard deviation of the noise that differs from sample to sample.
   *
   * @defaultValue 0
   */
  readonly white?: number;
  /**
   * Noise that wanders.
   *
   * @defaultValue none
   */
  readonly correlated?: {
    /** [signal unit] Standard deviation. */
    readonly standardDeviation: number;
    /** [s] Time in which the correlation falls to 1/e. */
    readonly timeConstant: number;
  };
}

/**
 * What {@link simulateTrace} makes a record from; plain JSON.
 *
 * @public
 */
export interface TraceRecipe {
  /** [min] Length of the record. */
  readonly duration: number;
  /** [s] Time between two samples. */
  readonly interval: number;
  /**
   * Unit of the signal.
   *
   * @defaultValue 'mAU'
   */
  readonly signalUnit?: string;
  /**
   * [-] Seed of the noise: a whole number from 0 to 4294967295. Required when `noise` is given.
   *
   * @defaultValue none
   */
  readonly seed?: number;
  /**
   * The peaks; they add.
   *
   * @defaultValue []
   */
  readonly peaks?: readonly PeakRecipe[];
  /**
   * Bumps that are no peaks.
   *
   * @defaultValue []
   */
  readonly bumps?: readonly BumpRecipe[];
  /**
   * The level below the peaks.
   *
   * @defaultValue a level of 0
   */
  readonly baseline?: BaselineRecipe;
  /**
   * The noise.
   *
   * @defaultValue none
   */
  readonly noise?: NoiseRecipe;
  /**
   * [signal unit] Readings are whole multiples of this step.
   *
   * @defaultValue none: not rounded
   */
  readonly step?: number;
}

const caller = 'simulateTrace';

/** Throws `option-unknown` or `option-invalid` naming the field when a recipe cannot be followed. */
export function checkRecipe(recipe: TraceRecipe): void {
  const names = ['duration', 'interval', 'signalUnit', 'seed', 'peaks', 'bumps', 'baseline', 'noise', 'step'];
  checkNames('recipe', recipe, names);
  positive('duration', recipe.duration);
  positive('interval', recipe.interval);
  const samples = (recipe.duration * 60) / recipe.interval + 1;
  if (samples < 2 || samples > 1e8) {
    failOption(caller, 'interval', `short enough for 2 samples and long enough for 1e8`, recipe.interval);
  }
  if (recipe.step !== undefined) positive('step', recipe.step);
  if (recipe.signalUnit !== undefined && typeof recipe.signalUnit !== 'string') {
    failOption(caller, 'signalUnit', 'a text', recipe.signalUnit);
  }
  list('peaks', recipe.peaks).forEach((peak, i) => {
    checkPeak(`peaks[${i}]`, peak);
  });
  list('bumps', recipe.bumps).forEach((bump, i) => {
    checkNames(`bumps[${i}]`, bump, ['time', 'height', 'sigma']);
    finite(`bumps[${i}].time`, bump.time);
    finite(`bumps[${i}].height`, bump.height);
    positive(`bumps[${i}].sigma`, bump.sigma);
  });
  if (recipe.baseline !== undefined) {
    checkNames('baseline', recipe.baseline, ['offset', 'drift']);
    finite('baseline.offset', recipe.baseline.offset ?? 0);
    finite('baseline.drift', recipe.baseline.drift ?? 0);
  }
  if (recipe.noise !== undefined) checkNoise(recipe.noise, recipe.seed);
  else if (recipe.seed !== undefined) checkSeed(recipe.seed);
}

function checkPeak(path: string, peak: PeakRecipe): void {
  checkNames(path, peak, ['shape', 'name', 'retentionTime', 'height', 'area', 'sigma', 'tau']);
  const shape: string = peak.shape;
  if (shape !== 'gaussian' && shape !== 'emg') failOption(caller, `${path}.shape`, `'gaussian' or 'emg'`, shape);
  finite(`${path}.retentionTime`, peak.retentionTime);
  positive(`${path}.sigma`, peak.sigma);
  if (peak.height !== undefined && peak.area !== undefined) {
    failOption(caller, `${path}.area`, 'left out when the height is given', peak.area);
  }
  if (peak.area === undefined) finite(`${path}.height`, peak.height);
  else finite(`${path}.area`, peak.area);
  if (peak.shape === 'emg') finite(`${path}.tau`, peak.tau);
  else if (peak.tau !== undefined) failOption(caller, `${path}.tau`, `left out, or the shape 'emg'`, peak.tau);
}

function checkNoise(noise: NoiseRecipe, seed: number | undefined): void {
  checkNames('noise', noise, ['white', 'correlated']);
  notNegative('noise.white', noise.white ?? 0);
  if (noise.correlated !== undefined) {
    checkNames('noise.correlated', noise.correlated, ['standardDeviation', 'timeConstant']);
    notNegative('noise.correlated.standardDeviation', noise.correlated.standardDeviation);
    positive('noise.correlated.timeConstant', noise.correlated.timeConstant);
  }
  checkSeed(seed);
}

function checkSeed(seed: unknown): void {
  if (!Number.isInteger(seed) || (seed as number) < 0 || (seed as number) > 4294967295) {
    failOption(caller, 'seed', 'a whole number from 0 to 4294967295', seed);
  }
}

function checkNames(path: string, value: unknown, known: readonly string[]): void {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) failOption(caller, path, 'an object', value);
  for (const name of Object.keys(value)) {
    if (known.includes(name)) continue;
    const near = nearest(name, known);
    throw new PeakwrightError(
      'option-unknown',
      `${caller}: ${path} has no field ${name}${near === undefined ? '' : `; did you mean ${near}?`} There are ${known.join(', ')}.`,
      { field: path === 'recipe' ? name : `${path}.${name}`, candidates: known },
    );
  }
}

function list<T>(path: string, value: readonly T[] | undefined): readonly T[] {
  const given: unknown = value;
  if (given !== undefined && !Array.isArray(given)) failOption(caller, path, 'an array', given);
  return value ?? [];
}

function finite(path: string, value: unknown): void {
  if (!Number.isFinite(value)) failOption(caller, path, 'a finite number', value);
}

function positive(path: string, value: unknown): void {
  if (!Number.isFinite(value) || (value as number) <= 0) failOption(caller, path, 'a finite number above 0', value);
}

function notNegative(path: string, value: unknown): void {
  if (!Number.isFinite(value) || (value as number) < 0)
    failOption(caller, path, 'a finite number of at least 0', value);
}
