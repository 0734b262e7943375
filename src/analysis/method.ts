import * as v from 'valibot';
import { nearest, PeakwrightError } from '../core/index.js';
import type { Component } from './components.js';

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

const positive = v.pipe(v.number(), v.finite(), v.gtValue(0));
const methodSchema = v.strictObject({
  peakWidth: v.optional(v.union([v.literal('automatic'), positive]), 'automatic'),
  sharpestBend: v.optional(v.union([v.literal('automatic'), positive]), 'automatic'),
  leastProminence: v.optional(v.pipe(v.number(), v.finite(), v.minValue(2)), 8),
  leastSignalToNoise: v.optional(v.pipe(v.number(), v.finite(), v.minValue(0)), 3),
  fewestPlates: v.optional(v.pipe(v.number(), v.finite(), v.minValue(0)), 60),
  divider: v.optional(v.picklist(['drop line', 'valley to valley']), 'drop line'),
  disturbances: v.optional(v.picklist(['set apart', 'keep as peaks']), 'set apart'),
  takeAsPeak: v.optional(v.array(v.pipe(v.number(), v.finite())), []),
  noiseWindow: v.optional(v.pipe(v.number(), v.finite(), v.minValue(5)), 20),
  components: v.optional(
    v.array(v.strictObject({ name: v.string(), retentionTime: v.pipe(v.number(), v.finite()), window: positive })),
    [],
  ),
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
  if (typeof partial !== 'object' || partial === null || Array.isArray(partial)) {
    throw new PeakwrightError(
      'option-invalid',
      `defineMethod: a method is an object of settings; received ${String(partial)}.`,
      {
        field: 'method',
        value: partial,
        expected: 'an object',
      },
    );
  }
  const parsed = v.safeParse(methodSchema, partial);
  if (parsed.success) return parsed.output;
  throw explain(parsed.issues[0]);
}

/** One issue of the schema as our error. */
function explain(issue: v.InferIssue<typeof methodSchema>): PeakwrightError {
  const field = v.getDotPath(issue) ?? 'method';
  if (issue.type === 'strict_object' && issue.expected === 'never') {
    const name = field.split('.').at(-1) ?? field;
    const known = field.includes('.') ? ['name', 'retentionTime', 'window'] : Object.keys(methodSchema.entries);
    const near = nearest(name, known);
    return new PeakwrightError(
      'option-unknown',
      `defineMethod: there is no setting ${field}${near === undefined ? '' : `; did you mean ${near}?`} There are ${known.join(', ')}.`,
      { field, candidates: known },
    );
  }
  const expected = expectation(field, issue.expected);
  return new PeakwrightError(
    'option-invalid',
    `defineMethod: setting ${field} must be ${expected}; received ${issue.received}.`,
    {
      field,
      value: issue.input,
      expected,
    },
  );
}

/** What a setting should have been, for people. */
function expectation(field: string, expected: string | null): string {
  if (field === 'peakWidth' || field === 'sharpestBend') return "a positive number of minutes or 'automatic'";
  return (expected ?? 'another value')
    .replace(/^>=/, 'a number of at least ')
    .replace(/^>/, 'a number above ')
    .replace('!Infinity', 'finite');
}
