import {
  checkFields,
  checkNotNegative,
  checkPositive,
  checkText,
  checkWhole,
  defined,
  optional,
} from '../core/index.js';
import type { TraceMeta } from './trace.js';

/**
 * What a caller may say about a record: the fields of {@link TraceMeta} that
 * do not follow from the samples and their units.
 *
 * @public
 */
export type GivenMeta = {
  readonly [K in Exclude<keyof TraceMeta, 'timeUnit' | 'signalUnit' | 'timeOrigin' | 'injectedAt'>]?:
    TraceMeta[K] | undefined;
};

const text = optional(checkText);
const positive = optional(checkPositive);

const checks = {
  name: text,
  file: text,
  channel: text,
  wavelength: positive,
  pathLength: positive,
  flow: positive,
  responseTime: optional(checkNotNegative),
  injectionNumber: optional((caller, field, value) => {
    checkWhole(caller, field, value, 1);
  }),
};

/** The fields that were given, checked. */
export function resolveMeta(caller: string, given: GivenMeta): Partial<TraceMeta> {
  checkFields(caller, checks, given, 'meta.');
  return defined(given);
}
