import { describe, fail } from '../core/index.js';
import { parseTimeUnit, type TimeUnit } from './units.js';

/** The unit that was stated, without blanks around it; `known` says for the message what could be. */
export function statedUnit(caller: string, field: string, text: unknown, known: string): string {
  if (typeof text === 'string' && text.trim() !== '') return text.trim();
  fail(caller, 'unit-missing', `a number without its unit could mean anything. Pass ${field}: ${known}.`, {
    field,
    value: text,
    expected: known,
  });
}

const timeUnits: readonly TimeUnit[] = ['min', 's', 'ms', 'h'];

/** The unit of time that was stated. */
export function statedTimeUnit(caller: string, field: string, text: unknown): TimeUnit {
  const known = `'${timeUnits.join("', '")}'`;
  const stated = statedUnit(caller, field, text, known);
  return (
    parseTimeUnit(stated) ??
    fail(caller, 'unit-unknown', `${describe(stated)} is not a known unit of time. Pass ${field}: ${known}.`, {
      field,
      value: stated,
      candidates: timeUnits,
    })
  );
}
