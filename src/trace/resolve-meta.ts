import { failOption, resolveOptions } from '../core/index.js';
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

const texts = ['name', 'file', 'channel'] as const;
const positives = ['wavelength', 'pathLength', 'flow'] as const;

const defaults: Required<GivenMeta> = {
  name: undefined,
  file: undefined,
  channel: undefined,
  wavelength: undefined,
  pathLength: undefined,
  flow: undefined,
  responseTime: undefined,
  injectionNumber: undefined,
};

/** The fields that were given, checked. */
export function resolveMeta(caller: string, given: GivenMeta | undefined): Partial<TraceMeta> {
  if (given === undefined) return {};
  const meta = resolveOptions(`${caller}: meta`, defaults, given);
  for (const field of texts) {
    if (meta[field] !== undefined && typeof meta[field] !== 'string')
      failOption(caller, `meta.${field}`, 'text', meta[field]);
  }
  for (const field of positives) {
    const value = meta[field];
    if (value !== undefined && !(Number.isFinite(value) && value > 0)) {
      failOption(caller, `meta.${field}`, 'a number above 0', value);
    }
  }
  const { responseTime, injectionNumber } = meta;
  if (responseTime !== undefined && !(Number.isFinite(responseTime) && responseTime >= 0)) {
    failOption(caller, 'meta.responseTime', 'a number of seconds, 0 or more', responseTime);
  }
  if (injectionNumber !== undefined && !(Number.isInteger(injectionNumber) && injectionNumber > 0)) {
    failOption(caller, 'meta.injectionNumber', 'a whole number from 1', injectionNumber);
  }
  return Object.fromEntries(Object.entries(meta).filter(([, value]) => value !== undefined));
}
