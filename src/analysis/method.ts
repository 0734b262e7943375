import { failOption, resolveOptions } from '../core/index.js';
import {
  checkPolicy,
  checkRules,
  dividers,
  standardDivisionPolicy,
  type Divider,
  type DivisionPolicy,
  type Rule,
} from '../integration/index.js';
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
  /** [a run] How many bumps noise alone may give that are as significant as one that is taken, where signal to noise is below one and a half times the least. */
  readonly falseAlarms: number;
  /** [-] (Retention time / standard deviation)² below which a bump is background and no peak. */
  readonly fewestPlates: number;
  /** What divides peaks that touch. */
  readonly divider: 'fit' | Divider | 'policy';
  /** Which divider when, for `divider: 'policy'`; see {@link DivisionPolicy}. */
  readonly divisionPolicy: DivisionPolicy;
  /** [-] Bias of a divided area, in parts of it, beyond which the peak is called not quantifiable by division. */
  readonly mostDivisionBias: number;
  /** Whether what looks like a spike, a bubble or the early disturbance is set apart, or taken as a peak. */
  readonly disturbances: 'set apart' | 'keep as peaks';
  /** [min] Places where what was set apart is to be taken as a peak after all. */
  readonly takeAsPeak: readonly number[];
  /** [-] Length of the window for signal-to-noise, in widths at half height, at least 5. */
  readonly noiseWindow: number;
  /** [signal unit] Raw signal up to which the detector is linear; peaks beyond it are warned about and kept from calibration. */
  readonly linearUpTo: number | 'unknown';
  /** Substances to name, by retention time and window. */
  readonly components: readonly Component[];
  /** What holds over stretches of the run, in order; see {@link Rule}. */
  readonly rules: readonly Rule[];
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

/** The default of each setting, what the setting must be in words, and the same as a test. */
type Checks = { readonly [K in keyof Method]: readonly [Method[K], expected: string, (value: unknown) => boolean] };

const isFinite = (value: unknown): value is number => Number.isFinite(value);
const atLeast = (least: number, standard: number): Checks['leastProminence'] => [
  standard,
  `a finite number of at least ${least}`,
  (value) => isFinite(value) && value >= least,
];
const minutes: Checks['peakWidth'] = [
  'automatic',
  "a positive number of minutes or 'automatic'",
  (value) => value === 'automatic' || (isFinite(value) && value > 0),
];
const either = <T extends string>(...ways: readonly [T, ...T[]]): readonly [T, string, (value: unknown) => boolean] => [
  ways[0],
  ways.map((way) => `'${way}'`).join(' or '),
  (value) => ways.includes(value as T),
];

const checks: Checks = {
  peakWidth: minutes,
  sharpestBend: minutes,
  leastProminence: atLeast(2, 8),
  leastSignalToNoise: atLeast(0, 2),
  falseAlarms: atLeast(0, 0.001),
  fewestPlates: atLeast(0, 60),
  divider: either('fit', ...dividers, 'policy'),
  divisionPolicy: [standardDivisionPolicy, 'a list of choices', Array.isArray],
  mostDivisionBias: [0.05, 'a number above 0 and at most 1', (value) => isFinite(value) && value > 0 && value <= 1],
  disturbances: either('set apart', 'keep as peaks'),
  takeAsPeak: [[], 'a list of finite times', (value) => Array.isArray(value) && value.every(isFinite)],
  noiseWindow: atLeast(5, 20),
  linearUpTo: [
    'unknown',
    "a positive number in the unit of the signal or 'unknown'",
    (value) => value === 'unknown' || (isFinite(value) && value > 0),
  ],
  components: [[], 'a list of components', Array.isArray],
  rules: [[], 'a list of rules', Array.isArray],
};

/**
 * Fills in a method: what is not given takes its default. A name that is not a
 * setting is refused, with the one that was probably meant.
 *
 * @param partial - Any of the settings of {@link Method}.
 * @returns The whole method: plain JSON.
 * @throws PeakwrightError `option-unknown` for a name that is not a setting,
 *   `option-invalid` for a value outside its range; the message names the setting. `rules-contradict` for two rules that
 *   cannot both hold; the message names both.
 *
 * @example
 * ```ts
 * defineMethod({ divider: 'valley to valley' }).leastSignalToNoise; // => 2
 * ```
 *
 * @public
 */
export function defineMethod(partial: Partial<Method> = {}): Method {
  const caller = 'defineMethod';
  if (typeof partial !== 'object' || partial === null || Array.isArray(partial)) {
    failOption(caller, 'method', 'an object of settings', partial);
  }
  const defaults = Object.fromEntries(Object.entries(checks).map(([name, [standard]]) => [name, standard]));
  const method = resolveOptions(caller, defaults as unknown as Method, partial);
  for (const [name, [, expected, holds]] of Object.entries(checks)) {
    const value = method[name as keyof Method];
    if (!holds(value)) failOption(caller, name, expected, value);
  }
  checkComponents(caller, method.components);
  checkPolicy(caller, method.divisionPolicy);
  if (method.rules.length > 0) checkRules(caller, method.rules);
  return method;
}
