import { fail } from './errors.js';

/**
 * Fills in the defaults and refuses a name that is not an option, so that a
 * typing error cannot pass for a setting. An option given as `undefined` counts
 * as not given. `path` stands before the names of options inside another, for
 * example `'meta.'`.
 */
export function resolveOptions<T extends object>(
  caller: string,
  defaults: T,
  options: { readonly [K in keyof T]?: T[K] | undefined },
  path = '',
): T {
  checkNames(caller, defaults, options, path);
  return { ...defaults, ...defined(options) };
}

/** Refuses what is not an object, and a property that `known` does not have. */
export function checkNames(caller: string, known: object, options: object, path = ''): void {
  if (typeof options !== 'object' || options === null || Array.isArray(options)) {
    failOption(caller, path.slice(0, -1) || 'options', 'an object', options);
  }
  const names = Object.keys(known);
  for (const name of Object.keys(options)) {
    if (names.includes(name)) continue;
    const near = nearest(name, names);
    fail(
      caller,
      'option-unknown',
      `there is no option ${path}${name}${near === undefined ? '.' : `; did you mean ${near}?`} There are ${names.join(', ')}.`,
      { field: `${path}${name}`, candidates: names },
    );
  }
}

/** Refuses a value, naming the function the caller called and the option. */
export type Check = (caller: string, field: string, value: unknown) => void;

/** Checks an object by a table of its fields; a field the table does not have is refused. */
export function checkFields(caller: string, checks: Readonly<Record<string, Check>>, object: object, path = ''): void {
  checkNames(caller, checks, object, path);
  for (const [field, check] of Object.entries(checks))
    check(caller, path + field, object[field as keyof typeof object]);
}

/** The check, for a value that may be absent. */
export function optional(check: Check): Check {
  return (caller, field, value) => {
    if (value !== undefined) check(caller, field, value);
  };
}

/** Throws `option-invalid` in the one wording the library uses. */
export function failOption(caller: string, field: string, expected: string, value: unknown): never {
  fail(caller, 'option-invalid', `option ${field} must be ${expected}; received ${describe(value)}.`, {
    field,
    value,
    expected,
  });
}

/** Refuses what is not a finite number for which `holds`. */
export function checkNumber(
  caller: string,
  field: string,
  value: unknown,
  expected = 'a finite number',
  holds: (value: number) => boolean = () => true,
): asserts value is number {
  if (!Number.isFinite(value) || !holds(value as number)) failOption(caller, field, expected, value);
}

/** Refuses what is not a finite number above 0. */
export function checkPositive(caller: string, field: string, value: unknown): asserts value is number {
  checkNumber(caller, field, value, 'a number above 0', (v) => v > 0);
}

/** Refuses what is not a finite number of at least 0. */
export function checkNotNegative(caller: string, field: string, value: unknown): asserts value is number {
  checkNumber(caller, field, value, 'a number of at least 0', (v) => v >= 0);
}

/** Refuses what is not a whole number within the limits. */
export function checkWhole(caller: string, field: string, value: unknown, from: number, to?: number): void {
  const expected = `a whole number from ${from}${to === undefined ? '' : ` to ${to}`}`;
  checkNumber(caller, field, value, expected, (v) => v % 1 === 0 && v >= from && !(v > to!));
}

/** Refuses what is not text. */
export function checkText(caller: string, field: string, value: unknown): void {
  if (typeof value !== 'string') failOption(caller, field, 'text', value);
}

/** Refuses what is not one of the words. */
export function checkOneOf(caller: string, field: string, value: unknown, words: readonly string[]): void {
  if (!words.includes(value as string)) failOption(caller, field, words.map((word) => `'${word}'`).join(' or '), value);
}

/** Text of a value for a message, never longer than 80 characters. */
export function describe(value: unknown): string {
  const text =
    typeof value === 'string'
      ? `"${value}"`
      : typeof value === 'object' && value !== null
        ? kindOf(value)
        : String(value);
  return text.length > 80 ? `${text.slice(0, 77)}...` : text;
}

function kindOf(value: object): string {
  return Array.isArray(value) ? `an array of ${value.length}` : 'an object';
}

/** The known name closest to a mistyped one, or nothing when none is close. */
export function nearest(name: string, known: readonly string[]): string | undefined {
  let best: string | undefined;
  let bestDistance = Math.max(2, Math.floor(name.length / 3)) + 1;
  for (const candidate of known) {
    const distance = editDistance(name.toLowerCase(), candidate.toLowerCase());
    if (distance < bestDistance) {
      bestDistance = distance;
      best = candidate;
    }
  }
  return best;
}

/** Number of insertions, deletions and replacements between two words. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (const letter of a) {
    const next = [row[0]! + 1];
    for (let j = 1; j <= b.length; j++) {
      next.push(Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (letter === b[j - 1] ? 0 : 1)));
    }
    row = next;
  }
  return row[b.length]!;
}

/** A property that may be undefined becomes one that may be absent. */
type Defined<T> = { [K in keyof T as undefined extends T[K] ? never : K]: T[K] } & {
  [K in keyof T as undefined extends T[K] ? K : never]?: Exclude<T[K], undefined>;
};

/** The object without the properties that are undefined, so that what is not known is absent from plain data. */
export function defined<T extends object>(object: T): Defined<T> {
  const given = (): boolean => {
    for (const key in object) if (object[key] === undefined) return false;
    return true;
  };
  // Copying key by key is slow, and most often nothing is to be left out.
  if (given()) return object;
  const result: Partial<T> = {};
  for (const key of Object.keys(object) as (keyof T)[]) if (object[key] !== undefined) result[key] = object[key];
  return result as unknown as Defined<T>;
}
