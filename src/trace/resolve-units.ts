import { describe, fail } from '../core/index.js';
import { parseSignalUnit, parseTimeUnit, perBase, perMinute, type TimeUnit } from './units.js';

/** The unit of time that was stated. */
export function statedTimeUnit(caller: string, text: unknown): TimeUnit {
  const units = Object.keys(perMinute);
  const stated = statedUnit(caller, 'timeUnit', text, units);
  return parseTimeUnit(stated) ?? failUnit(caller, 'unit-unknown', 'timeUnit', stated, units);
}

/** The unit of the signal that was stated, in our spelling where it is one of ours. */
export function statedSignalUnit(caller: string, field: string, text: unknown): string {
  const stated = statedUnit(caller, field, text, Object.keys(perBase));
  return parseSignalUnit(stated) ?? stated;
}

function statedUnit(caller: string, field: string, text: unknown, units: readonly string[]): string {
  return (typeof text === 'string' && text.trim()) || failUnit(caller, 'unit-missing', field, text, units);
}

function failUnit(
  caller: string,
  code: 'unit-missing' | 'unit-unknown',
  field: string,
  value: unknown,
  candidates: readonly string[],
): never {
  const message = `${describe(value)} is no unit. Pass ${field}: '${candidates.join("' or '")}'.`;
  fail(caller, code, message, { field, value, candidates });
}
