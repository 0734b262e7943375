import { checkNames, checkNotNegative, checkPositive, checkWhole, defined, failOption } from '../core/index.js';
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

const checks: Readonly<Record<keyof GivenMeta, (caller: string, field: string, value: unknown) => void>> = {
  name: checkText,
  file: checkText,
  channel: checkText,
  wavelength: checkPositive,
  pathLength: checkPositive,
  flow: checkPositive,
  responseTime: checkNotNegative,
  injectionNumber: (caller, field, value) => {
    checkWhole(caller, field, value, 1);
  },
};

/** The fields that were given, checked. */
export function resolveMeta(caller: string, given: GivenMeta): Partial<TraceMeta> {
  checkNames(caller, checks, given, 'meta.');
  const meta = defined(given);
  for (const [field, value] of Object.entries(meta)) checks[field as keyof GivenMeta](caller, `meta.${field}`, value);
  return meta;
}

function checkText(caller: string, field: string, value: unknown): void {
  if (typeof value !== 'string') failOption(caller, field, 'text', value);
}
