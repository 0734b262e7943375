import { custom, optional, safeParse, strictObject } from 'valibot';
import { fail, failOption, nearest } from '../core/index.js';
import { checkComponents, type Component } from './components.js';

/**
 * What is asked of {@link analyse}. Every setting is a value or `'automatic'`;
 * what automatic became stands in `analysis.settings`, and {@link pinMethod}
 * turns it into values.
 *
 * @public
 */
export interface Method {
  /** [min] Standard deviation of the narrower peaks; it sets the distance of the baseline's knots. */
  readonly peakWidth: number | 'automatic';
  /** [min] No bend of the baseline is sharper than this, unless its free stretches demand it. Automatic: four peak widths. */
  readonly sharpestBend: number | 'automatic';
  /** [-] Height over the noise of its own coarseness that a maximum must stand above its valleys. */
  readonly leastProminence: number;
  /** [-] Height over the background, as 2H/h with h from the noise at every coarseness, that a peak must have. */
  readonly leastSignalToNoise: number;
  /** [-] (Retention time / standard deviation)² below which a bump is background and no peak. */
  readonly fewestPlates: number;
  /** What divides peaks that touch. */
  readonly divider: 'drop line' | 'valley to valley';
  /** Whether what looks like a spike, a bubble or the early disturbance is set apart, or taken as a peak. */
  readonly disturbances: 'set apart' | 'keep as peaks';
  /** [min] Places where what was set apart is to be taken as a peak after all. */
  readonly takeAsPeak: readonly number[];
  /** [-] Length of the window for signal-to-noise, in widths at half height, at least 5. */
  readonly noiseWindow: number;
  /** Substances to name, by retention time and window. */
  readonly components: readonly Component[];
}

/**
 * What a method resolved to on a trace: the same settings, each a value.
 *
 * @public
 */
export interface Settings extends Method {
  /** [min] Standard deviation of the narrower peaks. */
  readonly peakWidth: number;
  /** [min] Sharpest bend of the baseline. */
  readonly sharpestBend: number;
}

/** A setting: its default, what it must be in words, and the same as a test. */
const setting = <T>(standard: T, expected: string, holds: (value: unknown) => boolean) =>
  optional(custom<T>(holds, expected), standard);
const isFinite = (value: unknown): value is number => Number.isFinite(value);
const atLeast = (least: number, standard: number) =>
  setting(standard, `a finite number of at least ${least}`, (value) => isFinite(value) && value >= least);
const minutes = () =>
  setting<number | 'automatic'>(
    'automatic',
    "a positive number of minutes or 'automatic'",
    (value) => value === 'automatic' || (isFinite(value) && value > 0),
  );
const either = <A extends string, B extends string>(standard: A, other: B) =>
  setting<A | B>(standard, `'${standard}' or '${other}'`, (value) => value === standard || value === other);

const methodSchema = strictObject({
  peakWidth: minutes(),
  sharpestBend: minutes(),
  leastProminence: atLeast(2, 8),
  leastSignalToNoise: atLeast(0, 3),
  fewestPlates: atLeast(0, 60),
  divider: either('drop line', 'valley to valley'),
  disturbances: either('set apart', 'keep as peaks'),
  takeAsPeak: setting<number[]>([], 'a list of finite times', (value) => Array.isArray(value) && value.every(isFinite)),
  noiseWindow: atLeast(5, 20),
  components: setting<Component[]>([], 'a list of components', Array.isArray),
});

/**
 * Fills in a method: what is not given takes its default. A name that is not a
 * setting is refused, with the one that was probably meant.
 *
 * @param partial - Any of the settings of {@link Method}.
 * @returns The whole method: plain JSON.
 * @throws PeakwrightError `option-unknown` for a name that is not a setting,
 *   `option-invalid` for a value outside its range; the message names the setting.
 *
 * @example
 * ```ts
 * defineMethod({ divider: 'valley to valley' }).leastSignalToNoise; // => 3
 * ```
 *
 * @public
 */
export function defineMethod(partial: Partial<Method> = {}): Method {
  const caller = 'defineMethod';
  if (typeof partial !== 'object' || partial === null || Array.isArray(partial)) {
    failOption(caller, 'method', 'an object of settings', partial);
  }
  const { success, output, issues } = safeParse(methodSchema, partial);
  if (success) {
    checkComponents(caller, output.components);
    return output;
  }
  const { type, message, input, path } = issues[0];
  const field = String(path?.[0].key);
  if (type === 'custom') failOption(caller, field, message, input);
  const known = Object.keys(methodSchema.entries);
  const near = nearest(field, known);
  const meant = near === undefined ? '.' : `; did you mean ${near}?`;
  fail(caller, 'option-unknown', `there is no option ${field}${meant} There are ${known.join(', ')}.`, {
    field,
    candidates: known,
  });
}
