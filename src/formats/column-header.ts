import { parseSignalUnit, parseTimeUnit } from '../trace/index.js';

/** What the text above a column says. */
export interface ColumnHeader {
  /** The text as it stands in the file. */
  readonly text: string;
  /** The text without its unit. */
  readonly name: string;
  /** Whether the column is one of times. */
  readonly isTime: boolean;
  /** Unit of time, as spelled. */
  readonly timeUnit?: string | undefined;
  /** Unit of the signal, as spelled; one in brackets may be of any kind. */
  readonly signalUnit?: string | undefined;
  /** [nm] */
  readonly wavelength?: number | undefined;
}

/** Words for time that head columns, in the languages of common exports (common practice, no source). */
const timeWords =
  /^(?:(?:ret(?:ention)?|run)?[ ._-]*times?|rt|tr?|(?:lauf|retentions)?zeit|temps|tiempo|tempo|tijd|tid|aika|[cč]as|x)\b/iu;

/** Units of other detectors and instruments, taken only where they are marked as a unit (common practice, no source). */
const otherUnits =
  /^(?:counts?|cps|cts|[nuµμm]?(?:RIU|RFU|LU)|[nuµμmpf][AS]|FU|kPa|MPa|bar|psi|%B?|°C|[uµμm]?S\/cm|[um]?L\/min|nm|a\.u\.)$/i;

/** Reads a header cell such as `Time (s)`, `signal_uV`, `Zeit/min`, `UV 280 nm [mAU]`, or only `min`. */
export function parseColumnHeader(text: string, unitBelow = ''): ColumnHeader {
  const trimmed = text.trim().replace(/^"|"$/g, '');
  const [name, unit] = splitUnit(trimmed);
  const below = unitBelow.trim();
  const stated = below || unit;
  const isTimeUnit = parseTimeUnit(stated) !== undefined;
  const isTime = timeWords.test(name.replaceAll('_', ' ')) || (isTimeUnit && name === '');
  const isMarked = below !== '' || /[\])}]$/.test(trimmed);
  const isSignalUnit = parseSignalUnit(stated) !== undefined || (isMarked && otherUnits.test(stated));
  const wavelength = Number(/(?:^|[^\d.])(\d{3,4}(?:\.\d+)?)[\s_]*nm\b/i.exec(trimmed)?.[1] ?? 0);
  return {
    text: trimmed,
    name: name || trimmed,
    isTime,
    timeUnit: isTimeUnit ? stated : undefined,
    signalUnit: isSignalUnit && !isTime ? stated : undefined,
    wavelength: wavelength > 0 ? wavelength : undefined,
  };
}

/** Whether a line under the header holds units only. */
export function isUnitsRow(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell.trim() !== '');
  return filled.some(isUnit) && filled.every((cell) => isUnit(cell) || /^\s*[[({].*[\])}]\s*$/.test(cell));
}

/** Name and unit of a header cell, either empty when there is none. */
function splitUnit(text: string): [name: string, unit: string] {
  if (text.length > 200) return [text, ''];
  const [, before = '', inside = ''] = /^(.*?)[\s_]*[[({]\s*([^[\](){}]*\S)\s*[\])}]$/.exec(text) ?? [];
  if (inside !== '' && !/^[\d.]+\s*nm$/i.test(inside)) return [before.trim(), inside];
  if (isUnit(text)) return ['', text];
  const [, name = text, last = ''] = /^(.*[^\s_/,:])[\s_/,:]+([^\s_/,:]+)$/.exec(text) ?? [];
  return isUnit(last) ? [name.replace(/[\s_]+in$/i, ''), last] : [text, ''];
}

/** A unit and not a quantity: the bare word absorbance says nothing of AU or mAU. */
function isUnit(text: string): boolean {
  return (
    !/^(?:abs|absorbance)\.?$/i.test(text) && (parseTimeUnit(text) !== undefined || parseSignalUnit(text) !== undefined)
  );
}
