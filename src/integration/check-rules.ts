import {
  checkFields,
  checkNotNegative,
  checkNumber,
  checkOneOf,
  checkPositive,
  checkText,
  fail,
  failOption,
  nearest,
  optional,
  type Check,
} from '../core/index.js';
import { contradictionsIn } from './contradictions.js';
import { dividers } from './plan.js';
import { nameRule, type Rule } from './rule.js';

/** A reason that says something. */
const reason: Check = (caller, field, value) => {
  checkText(caller, field, value);
  if ((value as string).trim() === '') failOption(caller, field, 'a reason in words', value);
};
const divider: Check = (caller, field, value) => checkOneOf(caller, field, value, dividers);

/** What each kind needs besides `kind`, `from` and `to`. */
const fieldsOf: Readonly<Record<Rule['kind'], Readonly<Record<string, Check>>>> = {
  'integrate only within': { reason },
  'no peaks within': { reason },
  'downward peaks expected': {},
  'split at': {},
  'keep together': {},
  'fix the baseline level': { level: optional(checkNumber) },
  'baseline must pass through': { at: checkNumber, level: optional(checkNumber) },
  'divide by': { divider },
  'least height': { least: checkNotNegative },
  'least area': { least: checkNotNegative },
  'least signal-to-noise': { least: checkNotNegative },
  'expected width': { sigma: checkPositive },
};

/**
 * Refuses rules that are not whole, fields they do not have, and rules that
 * contradict each other.
 *
 * @throws {@link PeakwrightError} `option-invalid` or `option-unknown` with the field, for example `rules[1].from`;
 *   `rules-contradict` with both rules.
 */
export function checkRules(caller: string, rules: readonly Rule[]): void {
  const given: unknown = rules;
  if (!Array.isArray(given)) failOption(caller, 'rules', 'a list of rules', given);
  rules.forEach((rule, i) => {
    const path = `rules[${i}].`;
    const kinds = Object.keys(fieldsOf);
    const kind: unknown = (rule as Rule | null)?.kind;
    if (!kinds.includes(kind as string)) {
      const near = typeof kind === 'string' ? nearest(kind, kinds) : undefined;
      const words = kinds.map((word) => `'${word}'`).join(' or ');
      failOption(caller, `${path}kind`, near === undefined ? words : `a kind of rule (did you mean '${near}'?)`, kind);
    }
    const common = { kind: checkText, from: checkNumber, to: checkNumber, reason: optional(reason) };
    checkFields(caller, { ...common, ...fieldsOf[rule.kind] }, rule, path);
    const { from, to } = rule;
    if (rule.kind === 'split at' ? to < from : !(to > from)) failOption(caller, `${path}to`, `later than ${from}`, to);
    if (rule.kind === 'baseline must pass through' && !(rule.at > from && rule.at < to)) {
      failOption(caller, `${path}at`, `between ${from} and ${to} min`, rule.at);
    }
  });
  for (const [a, b, why] of contradictionsIn(rules)) {
    fail(
      caller,
      'rules-contradict',
      `${nameRule(rules, a)} and ${nameRule(rules, b)} contradict each other: ${why}. Take one out, or let them not overlap.`,
      { field: `rules[${b}]`, candidates: [`rules[${a}]`, `rules[${b}]`] },
    );
  }
}
