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

/** How many of a unit of time make one minute. */
export const perMinute: Readonly<Record<TimeUnit, number>> = { min: 1, s: 60, ms: 60_000, h: 1 / 60 };

/** How many of a signal unit make one of its base unit, AU or V. */
export const perBase: Readonly<Record<string, number | undefined>> = {
  AU: 1,
  mAU: 1e3,
  µAU: 1e6,
  V: 1,
  mV: 1e3,
  µV: 1e6,
} satisfies Record<SignalUnit, number>;

const timeSpellings: Readonly<Record<TimeUnit, RegExp>> = {
  min: /^min(ute)?s?$/,
  s: /^s(ec(ond)?s?)?$/,
  ms: /^m(illi)?s(ec(ond)?s?)?$/,
  h: /^h((ou)?rs?)?$/,
};

const signalSpelling = /^(micro|milli|[µμum]?)\s*(?:au|abs(?:orbance|orption)?(?:\s+units?)?|(v(?:olts?)?))$/i;

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
  return (Object.keys(timeSpellings) as TimeUnit[]).find((unit) => timeSpellings[unit].test(word));
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
  const [, prefix, volt] = signalSpelling.exec(bareWord(text)) ?? [];
  if (prefix === undefined || (prefix.length === 1 && prefix !== prefix.toLowerCase())) return undefined;
  const letter = prefix === '' ? '' : /^m(illi)?$/i.test(prefix) ? 'm' : 'µ';
  return `${letter}${volt === undefined ? 'AU' : 'V'}`;
}

/** The text without blanks around it, brackets and a final full stop; nothing when it is too long for a unit. */
function bareWord(text: string): string {
  return text.length > 80 ? '' : text.replace(/^[\s[({]+|[\s\])}.]+$/g, '');
}
