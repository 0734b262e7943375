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
  readonly timeUnit?: string;
  /** Unit of the signal, as spelled; one in brackets may be of any kind. */
  readonly signalUnit?: string;
  /** [nm] */
  readonly wavelength?: number;
}

/** Words for time that head columns, in the languages of common exports (common practice, no source). */
const timeWords =
  /^(?:ret(?:ention)?[ ._-]*time|run[ ._-]*time|time|times|rt|t|tr|zeit|laufzeit|retentionszeit|temps|tiempo|tempo|tijd|tid|aika|czas|čas|x)\b/iu;

/** Units of other detectors and instruments, taken only where they are marked as a unit (common practice, no source). */
const otherUnits =
  /^(?:counts?|cps|cts|(?:[nuµμm]?(?:RIU|RFU|LU))|(?:[nuµμm](?:A|S))|pA|fA|FU|kPa|MPa|bar|psi|%|%B|°C|[uµμm]?S\/cm|[um]?L\/min|nm|a\.u\.)$/i;

/** Reads a header cell such as `Time (s)`, `signal_uV`, `Zeit/min`, `UV 280 nm [mAU]`, or only `min`. */
export function parseColumnHeader(text: string, unitBelow = ''): ColumnHeader {
  const trimmed = text.trim().replace(/^"|"$/g, '');
  const { name, unit } = splitUnit(trimmed);
  const stated = unitBelow.trim() === '' ? unit : unitBelow.trim();
  const time = stated === undefined ? undefined : parseTimeUnit(stated);
  const isTime = timeWords.test(name.replaceAll('_', ' ')) || (time !== undefined && name === '');
  const nanometres = /(?:^|[^\d.])(\d{3,4}(?:\.\d+)?)[\s_]*nm\b/i.exec(trimmed)?.[1];
  const signalUnit =
    stated === undefined || isTime ? undefined : signalSpelling(stated, stated !== unit || /[\])}]\s*$/.test(trimmed));
  return {
    text: trimmed,
    name: name === '' ? trimmed : name,
    isTime,
    ...(time === undefined ? {} : { timeUnit: stated! }),
    ...(signalUnit === undefined ? {} : { signalUnit }),
    ...(nanometres === undefined ? {} : { wavelength: Number(nanometres) }),
  };
}

/** Whether a line under the header holds units only. */
export function isUnitsRow(cells: readonly string[]): boolean {
  let known = 0;
  for (const cell of cells) {
    const text = cell.trim();
    if (text === '') continue;
    if (isUnit(text)) known++;
    else if (!/^[[({].*[\])}]$/.test(text)) return false;
  }
  return known > 0;
}

function splitUnit(text: string): { name: string; unit?: string } {
  if (text.length > 200) return { name: text };
  const brackets = /^(.*?)[\s_]*[[({]([^[\](){}]*)[\])}]$/.exec(text);
  if (brackets !== null && !/^\s*[\d.]+\s*nm\s*$/i.test(brackets[2]!) && brackets[2]!.trim() !== '') {
    return { name: brackets[1]!.trim(), unit: brackets[2]!.trim() };
  }
  if (isUnit(text)) return { name: '', unit: text };
  const last = /^(.*[^\s_/,:])[\s_/,:]+(?:in[\s_]+)?([^\s_/,:]+)$/.exec(text);
  if (last !== null && isUnit(last[2]!)) return { name: last[1]!.replace(/[\s_]+in$/i, ''), unit: last[2]! };
  return { name: text };
}

/** A unit and not a quantity: the bare word absorbance says nothing of AU or mAU. */
function isUnit(text: string): boolean {
  if (/^(?:abs|absorbance)\.?$/i.test(text)) return false;
  return parseTimeUnit(text) !== undefined || parseSignalUnit(text) !== undefined;
}

function signalSpelling(text: string, inBrackets: boolean): string | undefined {
  if (parseSignalUnit(text) !== undefined) return text;
  return inBrackets && otherUnits.test(text) ? text : undefined;
}
