/**
 * Units of time a source may use; inside the library time is in minutes.
 *
 * @public
 */
export type TimeUnit = 'min' | 's' | 'ms' | 'h';

/**
 * Signal units that convert into each other: decadic absorbance and voltage.
 * The micro sign is U+00B5; both micro signs and `u` are read.
 *
 * @public
 */
export type SignalUnit = 'AU' | 'mAU' | 'µAU' | 'V' | 'mV' | 'µV';

/** A time in a source unit is `time * times / over` minutes; one of the two is 1, so that it is rounded once. */
export const minutesPer: Readonly<Record<TimeUnit, { readonly times: number; readonly over: number }>> = {
  min: { times: 1, over: 1 },
  s: { times: 1, over: 60 },
  ms: { times: 1, over: 60_000 },
  h: { times: 60, over: 1 },
};

/** Kind of a signal unit, and how many powers of ten it lies below its base unit. */
export const signalUnits: Readonly<Record<SignalUnit, { readonly kind: SignalKind; readonly below: number }>> = {
  AU: { kind: 'absorbance', below: 0 },
  mAU: { kind: 'absorbance', below: 3 },
  µAU: { kind: 'absorbance', below: 6 },
  V: { kind: 'voltage', below: 0 },
  mV: { kind: 'voltage', below: 3 },
  µV: { kind: 'voltage', below: 6 },
};

/** What a signal measures; units of one kind differ by a power of ten. */
export type SignalKind = 'absorbance' | 'voltage';

const timeSpellings: Readonly<Record<TimeUnit, readonly string[]>> = {
  min: ['min', 'mins', 'minute', 'minutes'],
  s: ['s', 'sec', 'secs', 'second', 'seconds'],
  ms: ['ms', 'msec', 'msecs', 'millisecond', 'milliseconds'],
  h: ['h', 'hr', 'hrs', 'hour', 'hours'],
};

const kindSpellings: Readonly<Record<SignalKind, readonly string[]>> = {
  absorbance: ['au', 'abs', 'absorbance', 'absorbance unit', 'absorbance units', 'absorption unit', 'absorption units'],
  voltage: ['v', 'volt', 'volts'],
};

/** Prefixes as they stand before a unit; the case of a single letter is kept, since M is mega. */
const prefixes: readonly (readonly [spelling: string, below: number])[] = [
  ['micro', 6],
  ['milli', 3],
  ['µ', 6],
  ['u', 6],
  ['m', 3],
  ['', 0],
];

/**
 * Reads a unit of time as files spell it: `min`, `Minutes`, `s`, `sec.`, `ms`,
 * `h`, in any case, with or without brackets and a final full stop.
 *
 * @param text - The spelling.
 *
 * @returns The unit, or `undefined` when the spelling is not one of time.
 *
 * @example
 * ```ts
 * parseTimeUnit('[Sec.]'); // => 's'
 * parseTimeUnit('mAU'); // => undefined
 * ```
 *
 * @public
 */
export function parseTimeUnit(text: string): TimeUnit | undefined {
  const word = bareWord(text).toLowerCase();
  return (Object.keys(timeSpellings) as TimeUnit[]).find((unit) => timeSpellings[unit].includes(word));
}

/**
 * Reads a unit of absorbance or voltage as files spell it: `mAU`, `uAU`,
 * `µV` with either micro sign, `milliabsorbance units`, `Volts`, with or
 * without brackets. The prefix letter is read in lower case only: `MV` is
 * megavolt, which no detector gives, and is not taken for millivolt; nor is
 * `a.u.`, which elsewhere means arbitrary units.
 *
 * @param text - The spelling.
 *
 * @returns The unit, or `undefined` when the spelling is none of these.
 *
 * @example
 * ```ts
 * parseSignalUnit('(uV)'); // => 'µV'
 * parseSignalUnit('counts'); // => undefined
 * ```
 *
 * @public
 */
export function parseSignalUnit(text: string): SignalUnit | undefined {
  const word = bareWord(text);
  for (const [spelling, below] of prefixes) {
    const head = word.slice(0, spelling.length);
    if ((spelling.length > 1 ? head.toLowerCase() : head) !== spelling) continue;
    const base = word.slice(spelling.length).trim().toLowerCase();
    const unit = (Object.keys(signalUnits) as SignalUnit[]).find(
      (known) => signalUnits[known].below === below && kindSpellings[signalUnits[known].kind].includes(base),
    );
    if (unit !== undefined) return unit;
  }
  return undefined;
}

/** The text without blanks, brackets and a final full stop; the Greek letter mu becomes the micro sign. */
function bareWord(text: string): string {
  let word = text.normalize('NFC').replaceAll('\u03BC', 'µ').trim();
  const closing: Readonly<Record<string, string>> = { '(': ')', '[': ']', '{': '}' };
  const close = closing[word.charAt(0)];
  if (close !== undefined && word.endsWith(close)) word = word.slice(1, -1).trim();
  return word.replace(/\.$/, '').replace(/\s+/g, ' ');
}
