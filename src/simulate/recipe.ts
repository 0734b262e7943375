import {
  checkFields,
  checkNotNegative,
  checkNumber,
  checkOneOf,
  checkPositive,
  checkText,
  checkWhole,
  failOption,
  optional,
  type Check,
} from '../core/index.js';

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

const number: Check = (caller, field, value) => {
  checkNumber(caller, field, value);
};
const shape: Check = (caller, field, value) => {
  checkOneOf(caller, field, value, ['gaussian', 'emg']);
};
const seed: Check = (caller, field, value) => {
  checkWhole(caller, field, value, 0, 4294967295);
};

/** The check of an object inside the recipe. */
const object =
  (checks: Readonly<Record<string, Check>>): Check =>
  (caller, field, value) => {
    checkFields(caller, checks, value as Readonly<Record<string, unknown>>, `${field}.`);
  };

/** The check of a list inside the recipe. */
const list =
  (check: Check): Check =>
  (caller, field, value) => {
    if (!Array.isArray(value)) failOption(caller, field, 'an array', value);
    value.forEach((item, i) => {
      check(caller, `${field}[${i}]`, item);
    });
  };

/** Made when asked for, so that who does not simulate does not load it. */
const fields = (): Readonly<Record<string, Check>> => ({
  duration: checkPositive,
  interval: checkPositive,
  signalUnit: optional(checkText),
  seed: optional(seed),
  peaks: optional(
    list(
      object({
        shape,
        name: optional(checkText),
        retentionTime: number,
        height: optional(number),
        area: optional(number),
        sigma: checkPositive,
        tau: optional(number),
      }),
    ),
  ),
  bumps: optional(list(object({ time: number, height: number, sigma: checkPositive }))),
  baseline: optional(object({ offset: optional(number), drift: optional(number) })),
  noise: optional(
    object({
      white: optional(checkNotNegative),
      correlated: optional(object({ standardDeviation: checkNotNegative, timeConstant: checkPositive })),
    }),
  ),
  step: optional(checkPositive),
});

/** Throws `option-unknown` or `option-invalid` naming the field when a recipe cannot be followed. */
export function checkRecipe(caller: string, recipe: TraceRecipe): void {
  checkFields(caller, fields(), { ...recipe });
  const { duration, interval } = recipe;
  const samples = (duration * 60) / interval;
  checkNumber(caller, 'interval', interval, 'for 2 to 1e8 samples', () => samples >= 1 && samples < 1e8);
  recipe.peaks?.forEach(({ shape, height, area, tau }, i) => {
    const path = `peaks[${i}].`;
    if (area === undefined) checkNumber(caller, `${path}height`, height);
    else if (height !== undefined) failOption(caller, `${path}area`, 'absent, as height is given', area);
    if (shape === 'emg') checkNumber(caller, `${path}tau`, tau);
    else if (tau !== undefined) failOption(caller, `${path}tau`, "absent, or shape 'emg'", tau);
  });
  if (recipe.noise !== undefined) seed(caller, 'seed', recipe.seed);
}
