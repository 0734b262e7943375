import { describe, PeakwrightError, type Warning } from '../core/index.js';
import type { UnitProvenance } from './trace.js';
import { parseSignalUnit, parseTimeUnit, type TimeUnit } from './units.js';

/** The unit of time the caller stated. */
export function resolveTimeUnit(
  caller: string,
  text: unknown,
  provenance: UnitProvenance,
): { unit: TimeUnit; warnings: Warning[] } {
  const stated = failUnlessStated(caller, 'timeUnit', text, "'min', 's', 'ms' or 'h'");
  const unit = parseTimeUnit(stated);
  if (unit === undefined) {
    throw new PeakwrightError(
      'unit-unknown',
      `${caller}: ${describe(stated)} is not a known unit of time; pass timeUnit: 'min', 's', 'ms' or 'h'.`,
      {
        field: 'timeUnit',
        value: stated,
        candidates: ['min', 's', 'ms', 'h'],
      },
    );
  }
  return { unit, warnings: warnIfAssumed('time', unit, provenance) };
}

/** The unit of the signal the caller stated, in our spelling when it is a known one. */
export function resolveSignalUnit(
  caller: string,
  text: unknown,
  provenance: UnitProvenance,
): { name: string; warnings: Warning[] } {
  const stated = failUnlessStated(
    caller,
    'signalUnit',
    text,
    "'AU', 'mAU', 'µAU', 'V', 'mV' or 'µV', or the unit the detector gives",
  );
  const unit = parseSignalUnit(stated);
  if (unit !== undefined) return { name: unit, warnings: warnIfAssumed('signal', unit, provenance) };
  const message = `The signal unit ${describe(stated)} is kept as stated; it is neither absorbance nor voltage, so it is converted only with a stated factor.`;
  return {
    name: stated,
    warnings: [{ code: 'signal-unit-not-known', message }, ...warnIfAssumed('signal', stated, provenance)],
  };
}

function failUnlessStated(caller: string, field: string, text: unknown, known: string): string {
  if (typeof text === 'string' && text.trim() !== '') return text.trim();
  const found = text === undefined || text === '' ? 'is missing' : `is ${describe(text)}`;
  throw new PeakwrightError(
    'unit-missing',
    `${caller}: ${field} ${found}, and numbers without it could mean anything. Pass ${field}: ${known}.`,
    { field, value: text, expected: known },
  );
}

function warnIfAssumed(quantity: string, unit: string, provenance: UnitProvenance): Warning[] {
  if (provenance !== 'assumed') return [];
  return [
    {
      code: `${quantity}-unit-assumed`,
      message: `The unit of ${quantity} was assumed to be ${unit}; the source does not say.`,
    },
  ];
}
