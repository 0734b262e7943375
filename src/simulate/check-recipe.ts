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
import type { PeakRecipe, PeakShapeName } from './peak-recipe.js';
import type { TraceRecipe } from './recipe.js';

const number: Check = (caller, field, value) => {
  checkNumber(caller, field, value);
};
const seed: Check = (caller, field, value) => {
  checkWhole(caller, field, value, 0, 4294967295);
};
const within =
  (low: number, high: number, expected: string): Check =>
  (caller, field, value) => {
    checkNumber(caller, field, value, expected, (v) => v >= low && v < high);
  };
const between = (most: number): Check => within(-most, most * (1 + 1e-15), `a number from ${-most} to ${most}`);
const oneOf =
  (...words: readonly string[]): Check =>
  (caller, field, value) => {
    checkOneOf(caller, field, value, words);
  };
const factor: Check = (caller, field, value) => {
  checkWhole(caller, field, value, 2);
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

/** The check of an object with `from` and `to`, which must follow each other. */
const stretch =
  (more: Readonly<Record<string, Check>> = {}): Check =>
  (caller, field, value) => {
    object({ from: number, to: number, ...more })(caller, field, value);
    const { from, to } = value as { readonly from: number; readonly to: number };
    checkNumber(caller, `${field}.to`, to, `above ${field}.from, ${from}`, () => to > from);
  };

/** What each shape has beside `sigma`, and how it is checked. */
const ofShape = (): Readonly<Record<PeakShapeName, Readonly<Record<string, Check>>>> => ({
  gaussian: {},
  emg: { tau: number },
  'split-gaussian': { sigmaAfter: checkPositive },
  'log-normal': { skew: between(2) },
  'haarhoff-van-der-linde': { overload: between(100) },
  'emg-with-slow-tail': {
    slowFraction: within(0, 1, 'a number of at least 0 and below 1'),
    slowTau: checkPositive,
    tau: optional(number),
  },
  'polynomial-gaussian': { slope: between(1), curvature: optional(number) },
});

const disturbances = (): Readonly<Record<string, Readonly<Record<string, Check>>>> => {
  const common = { kind: () => undefined, time: number, height: number };
  return {
    void: {
      ...common,
      sigma: checkPositive,
      second: optional(object({ delay: number, height: number, sigma: checkPositive })),
    },
    bubble: { ...common, stay: optional(checkNotNegative), decay: optional(checkNotNegative) },
    spike: { ...common, length: optional(checkNotNegative) },
    step: common,
  };
};

/** Of each kind by its own table. */
const disturbance: Check = (caller, field, value) => {
  const kinds = disturbances();
  if (typeof value !== 'object' || value === null) failOption(caller, field, 'an object', value);
  const { kind } = value as { readonly kind?: string };
  checkOneOf(caller, `${field}.kind`, kind, Object.keys(kinds));
  object(kinds[kind!]!)(caller, field, value);
};

/** The check of a peak, alone or in a recipe. */
export const checkPeak: Check = (caller, field, value) => {
  const shapes = ofShape();
  const own = Object.assign({}, ...Object.values(shapes)) as Readonly<Record<string, Check>>;
  const any = Object.fromEntries(Object.keys(own).map((name) => [name, () => undefined]));
  object({
    shape: oneOf(...Object.keys(shapes)),
    name: optional(checkText),
    retentionTime: number,
    height: optional(number),
    area: optional(number),
    sigma: checkPositive,
    ...any,
  })(caller, field, value);
  const peak = value as PeakRecipe;
  const { shape, height, area } = peak;
  if (area === undefined) checkNumber(caller, `${field}.height`, height);
  else if (height !== undefined) failOption(caller, `${field}.area`, 'absent, as height is given', area);
  for (const name of Object.keys(own)) {
    const check = shapes[shape][name];
    const given = peak[name as keyof PeakRecipe];
    if (check !== undefined) check(caller, `${field}.${name}`, given);
    else if (given !== undefined) {
      const having = Object.entries(shapes).flatMap(([s, fields]) => (name in fields ? [`'${s}'`] : []));
      failOption(caller, `${field}.${name}`, `absent, or shape ${having.join(' or ')}`, given);
    }
  }
  const { curvature, sigma } = peak;
  const isSmooth = (c: number): boolean => Math.abs(c) * sigma <= mostCurvature;
  if (curvature !== undefined) checkNumber(caller, `${field}.curvature`, curvature, `at most ${mostCurvature} / sigma in size`, isSmooth); // prettier-ignore
};

/** [-] Curvature times sigma from which the peak would fall and rise again within 5 sigma. */
const mostCurvature = 0.04;

/** Made when asked for, so that who does not simulate does not load it. */
const fields = (): Readonly<Record<string, Check>> => ({
  start: optional(number),
  duration: checkPositive,
  interval: checkPositive,
  sampling: optional(
    object({
      jitter: optional(within(0, 0.5, 'a number of at least 0 and below 0.5')),
      gaps: optional(list(stretch())),
      slower: optional(list(stretch({ factor }))),
    }),
  ),
  signalUnit: optional(checkText),
  seed: optional(seed),
  peaks: optional(list(checkPeak)),
  bumps: optional(list(object({ time: number, height: number, sigma: checkPositive }))),
  disturbances: optional(list(disturbance)),
  baseline: optional(
    object({
      offset: optional(number),
      drift: optional(number),
      ramps: optional(list(stretch({ rise: number, bend: optional(number), rounding: optional(checkNotNegative) }))),
      humps: optional(list(object({ time: number, height: number, sigma: checkPositive }))),
    }),
  ),
  noise: optional(
    object({
      white: optional(checkNotNegative),
      correlated: optional(object({ standardDeviation: checkNotNegative, timeConstant: checkPositive })),
      wander: optional(
        object({ standardDeviation: checkNotNegative, shortest: checkPositive, longest: checkPositive }),
      ),
      ripple: optional(
        object({ amplitude: checkNotNegative, period: checkPositive, harmonics: optional(list(number)) }),
      ),
    }),
  ),
  saturation: optional(object({ level: number, noise: optional(oneOf('before', 'after')) })),
  step: optional(checkPositive),
});

/** Throws `option-unknown` or `option-invalid` naming the field when a recipe cannot be followed. */
export function checkRecipe(caller: string, recipe: TraceRecipe): void {
  checkFields(caller, fields(), { ...recipe });
  const { duration, interval, noise } = recipe;
  const samples = (duration * 60) / interval;
  checkNumber(caller, 'interval', interval, 'for 2 to 1e8 samples', () => samples >= 1 && samples < 1e8);
  const wander = noise?.wander;
  if (wander !== undefined) {
    const { shortest, longest } = wander;
    checkNumber(caller, 'noise.wander.longest', longest, `at least noise.wander.shortest, ${shortest}`, (v) => v >= shortest); // prettier-ignore
  }
  if (noise !== undefined || recipe.sampling?.jitter) seed(caller, 'seed', recipe.seed);
}
