import { describe, expect, test } from 'vitest';
import { analyse, applyRules, defineMethod, type Rule } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';
import { straight } from '../../support/plans.js';
import { traceOf } from '../../support/traces.js';

const reason = 'solvent front';
const refusal = (...rules: unknown[]) => thrownBy(() => defineMethod({ rules: rules as Rule[] }));

/** One rule of every kind, none of which contradicts another. */
const every: Rule[] = [
  { kind: 'integrate only within', from: 0, to: 30, reason: 'validated stretch' },
  { kind: 'no peaks within', from: 0, to: 1, reason },
  { kind: 'downward peaks expected', from: 2, to: 3 },
  { kind: 'split at', from: 4, to: 4 },
  { kind: 'keep together', from: 5, to: 6 },
  { kind: 'fix the baseline level', from: 7, to: 8, level: 3 },
  { kind: 'baseline must pass through', from: 9, to: 10, at: 9.5 },
  { kind: 'divide by', from: 11, to: 12, divider: 'valley to valley', reason: 'as in the monograph' },
  { kind: 'least height', from: 0, to: 30, least: 1 },
  { kind: 'least area', from: 0, to: 30, least: 0 },
  { kind: 'least signal-to-noise', from: 0, to: 30, least: 10 },
  { kind: 'expected width', from: 20, to: 30, sigma: 0.1 },
];

test('a method takes a rule of every kind, in order, as plain JSON', () => {
  const method = defineMethod({ rules: every });
  expect(method.rules).toStrictEqual(every);
  expect(JSON.parse(JSON.stringify(method))).toStrictEqual(method);
});

describe('A rule that is not whole is refused by field', () => {
  test.each<[unknown, string, string]>([
    [null, 'rules[0].kind', "'no peaks within'"],
    [{ from: 0, to: 1 }, 'rules[0].kind', "'keep together'"],
    [{ kind: 'no peak within', from: 0, to: 1, reason }, 'rules[0].kind', "did you mean 'no peaks within'?"],
    [{ kind: 'split at', from: 1 }, 'rules[0].to', 'a finite number'],
    [{ kind: 'keep together', from: 1, to: 1 }, 'rules[0].to', 'later than 1'],
    [{ kind: 'split at', from: 2, to: 1 }, 'rules[0].to', 'later than 2'],
    [{ kind: 'keep together', from: NaN, to: 1 }, 'rules[0].from', 'a finite number'],
    [{ kind: 'no peaks within', from: 0, to: 1 }, 'rules[0].reason', 'text'],
    [{ kind: 'no peaks within', from: 0, to: 1, reason: ' ' }, 'rules[0].reason', 'a reason in words'],
    [{ kind: 'integrate only within', from: 0, to: 1 }, 'rules[0].reason', 'text'],
    [{ kind: 'split at', from: 1, to: 1, reason: '' }, 'rules[0].reason', 'a reason in words'],
    [{ kind: 'divide by', from: 0, to: 1, divider: 'skim' }, 'rules[0].divider', "'drop line'"],
    [{ kind: 'least area', from: 0, to: 1 }, 'rules[0].least', 'at least 0'],
    [{ kind: 'least height', from: 0, to: 1, least: -1 }, 'rules[0].least', 'at least 0'],
    [{ kind: 'expected width', from: 0, to: 1, sigma: 0 }, 'rules[0].sigma', 'above 0'],
    [{ kind: 'fix the baseline level', from: 0, to: 1, level: Infinity }, 'rules[0].level', 'a finite number'],
    [{ kind: 'baseline must pass through', from: 0, to: 1 }, 'rules[0].at', 'a finite number'],
    [{ kind: 'baseline must pass through', from: 0, to: 1, at: 1 }, 'rules[0].at', 'between 0 and 1 min'],
  ])('%j', (rule, field, message) => {
    const error = refusal(rule);
    expect(error).toMatchObject({ code: 'option-invalid', details: { field } });
    expect(error.message).toContain(message);
  });

  test.each([
    [{ kind: 'split at', from: 1, to: 1, att: 1 }, 'att', 'from'],
    [{ kind: 'no peaks within', from: 0, to: 1, reson: reason }, 'reson', 'did you mean reason?'],
    [{ kind: 'divide by', from: 0, to: 1, dividr: 'drop line' }, 'dividr', 'did you mean divider?'],
    [{ kind: 'keep together', from: 0, to: 1, level: 3 }, 'level', 'There are kind, from, to, reason'],
  ])('%j has a field that is not known', (rule, field, message) => {
    const error = refusal(every[1], rule);
    expect(error).toMatchObject({ code: 'option-unknown', details: { field: `rules[1].${field}` } });
    expect(error.message).toContain(message);
  });

  test('so is what is no list, by defineMethod and by applyRules', () => {
    const wrong = 'no peaks' as unknown as Rule[];
    expect(thrownBy(() => defineMethod({ rules: wrong }))).toMatchObject({ details: { field: 'rules' } });
    const trace = traceOf(20, (i) => i);
    const plan = { baselines: [straight(0, 19)], regions: [] };
    expect(thrownBy(() => applyRules(trace, plan, wrong))).toMatchObject({ details: { field: 'rules' } });
  });
});

const only: Rule = { kind: 'integrate only within', from: 3, to: 7, reason: 'validated stretch' };
const none: Rule = { kind: 'no peaks within', from: 2, to: 8, reason };
const bend = { kind: 'baseline must pass through' } as const;
const fix = { kind: 'fix the baseline level' } as const;

describe('Rules that contradict each other are refused, both named', () => {
  test.each<[Rule, Rule, string]>([
    [none, only, 'there is no peak where none may be'],
    [none, { kind: 'split at', from: 4, to: 4 }, 'there is no peak where none may be'],
    [none, { kind: 'split at', from: 4, to: 5 }, 'there is no peak where none may be'],
    [none, { kind: 'keep together', from: 4, to: 5 }, 'there is no peak where none may be'],
    [none, { kind: 'downward peaks expected', from: 2, to: 8 }, 'there is no peak where none may be'],
    [none, { kind: 'divide by', from: 4, to: 5, divider: 'drop line' }, 'there is no peak where none may be'],
    [none, { kind: 'least height', from: 4, to: 5, least: 2 }, 'there is no peak where none may be'],
    [none, { kind: 'least area', from: 4, to: 5, least: 2 }, 'there is no peak where none may be'],
    [none, { kind: 'least signal-to-noise', from: 4, to: 5, least: 2 }, 'there is no peak where none may be'],
    [none, { kind: 'expected width', from: 4, to: 5, sigma: 0.1 }, 'there is no peak where none may be'],
    [only, { kind: 'split at', from: 8, to: 8 }, 'no peak where nothing is integrated'],
    [only, { kind: 'keep together', from: 1, to: 2 }, 'no peak where nothing is integrated'],
    [only, { kind: 'downward peaks expected', from: 8, to: 9 }, 'no peak where nothing is integrated'],
    [only, { kind: 'expected width', from: 8, to: 9, sigma: 1 }, 'no peak where nothing is integrated'],
    [only, { kind: 'least height', from: 8, to: 9, least: 1 }, 'no peak where nothing is integrated'],
    [only, { kind: 'divide by', from: 8, to: 9, divider: 'drop line' }, 'no peak where nothing is integrated'],
    [
      { kind: 'keep together', from: 4, to: 5 },
      { kind: 'split at', from: 4.5, to: 4.5 },
      'what is kept together has no divider inside',
    ],
    [
      { kind: 'keep together', from: 4, to: 5 },
      { kind: 'split at', from: 4.8, to: 5.2 },
      'what is kept together has no divider inside',
    ],
    [
      { kind: 'keep together', from: 4, to: 5 },
      { kind: 'divide by', from: 4.2, to: 4.8, divider: 'drop line' },
      'what is kept together has no divider inside',
    ],
    [
      { kind: 'divide by', from: 4, to: 6, divider: 'drop line' },
      { kind: 'divide by', from: 5, to: 7, divider: 'valley to valley' },
      'a divider is of one sort',
    ],
    [
      { kind: 'expected width', from: 4, to: 6, sigma: 0.1 },
      { kind: 'expected width', from: 5, to: 7, sigma: 0.2 },
      'two different widths',
    ],
    [{ ...fix, from: 4, to: 6, level: 1 }, { ...fix, from: 5, to: 7, level: 2 }, 'one level at one place'],
    [{ ...fix, from: 4, to: 6 }, { ...fix, from: 5, to: 7 }, 'one level at one place'],
    [
      { ...fix, from: 4, to: 6, level: 1 },
      { ...bend, from: 5, to: 7, at: 6.5, level: 2 },
      'what is fixed cannot be bent',
    ],
    [
      { ...bend, from: 4, to: 6, at: 5, level: 1 },
      { ...bend, from: 4, to: 6, at: 5, level: 2 },
      'moves the baseline away',
    ],
    [{ ...bend, from: 4, to: 6, at: 5 }, { ...bend, from: 4.5, to: 7, at: 6 }, 'moves the baseline away'],
  ])('%j and %j', (a, b, why) => {
    for (const [i, rules] of [
      [a, b],
      [{ ...fix, from: 20, to: 21 } as Rule, a, b],
    ].entries()) {
      const error = refusal(...rules);
      const [first, second] = [i, i + 1];
      expect(error).toMatchObject({
        code: 'rules-contradict',
        details: { field: `rules[${second}]`, candidates: [`rules[${first}]`, `rules[${second}]`] },
      });
      for (const [rule, number] of [
        [a, first + 1],
        [b, second + 1],
      ] as const) {
        const span = rule.from === rule.to ? `${rule.from}` : `${rule.from} to ${rule.to}`;
        expect(error.message).toContain(`rule ${number} (${rule.kind} ${span} min)`);
      }
      expect(error.message).toContain(why);
    }
  });

  test('in the other order as well, except a bend that leaves the point of the earlier one alone', () => {
    expect(refusal({ kind: 'split at', from: 4, to: 4 }, none).code).toBe('rules-contradict');
    expect(refusal({ kind: 'keep together', from: 1, to: 2 }, only).code).toBe('rules-contradict');
    const narrow = { ...bend, from: 4.5, to: 7, at: 6, level: 2 };
    const wide = { ...bend, from: 4, to: 6.5, at: 4.2, level: 1 };
    expect(refusal(narrow, wide).message).toContain('moves the baseline away');
    expect(defineMethod({ rules: [wide, narrow] }).rules).toHaveLength(2);
  });

  test('of a rule outside every stretch the nearest stretch is named', () => {
    const far: Rule = { ...only, from: 20, to: 22 };
    expect(refusal(far, only, { kind: 'split at', from: 9, to: 9 }).message).toContain(
      'rule 2 (integrate only within 3 to 7',
    );
  });

  test('of what is kept together around something excluded', () => {
    const together: Rule = { kind: 'keep together', from: 2, to: 9 };
    const hole: Rule = { kind: 'no peaks within', from: 4, to: 5, reason };
    for (const rules of [
      [together, hole],
      [hole, together],
      [only, { ...only, from: 8, to: 12 }, { ...together, from: 6, to: 10 }],
    ] as Rule[][]) {
      expect(refusal(...rules).message).toContain('what is kept together has no hole');
    }
  });

  test('by analyse and by applyRules too', () => {
    const trace = traceOf(100, (i) => i);
    const rules: Rule[] = [none, { kind: 'split at', from: 4, to: 4 }];
    expect(thrownBy(() => analyse(trace, { rules })).code).toBe('rules-contradict');
    const plan = { baselines: [straight(0, 99)], regions: [] };
    expect(thrownBy(() => applyRules(trace, plan, rules)).code).toBe('rules-contradict');
  });
});

describe('Rules that can both hold are taken', () => {
  test.each<[Rule, Rule]>([
    [none, { kind: 'least height', from: 0, to: 5, least: 2 }],
    [none, { kind: 'keep together', from: 7, to: 9 }],
    [none, { ...fix, from: 3, to: 4 }],
    [none, { ...bend, from: 3, to: 4, at: 3.5 }],
    [none, { ...none, from: 3, to: 4 }],
    [none, { kind: 'split at', from: 8, to: 8 }],
    [only, { ...none, from: 0, to: 4 }],
    [only, { ...only, from: 10, to: 12 }],
    [only, { ...fix, from: 0, to: 1 }],
    [only, { kind: 'keep together', from: 6, to: 9 }],
    [
      { kind: 'divide by', from: 4, to: 6, divider: 'drop line' },
      { kind: 'divide by', from: 6, to: 7, divider: 'valley to valley' },
    ],
    [
      { kind: 'divide by', from: 4, to: 6, divider: 'drop line' },
      { kind: 'keep together', from: 5, to: 5.5 },
    ],
    [
      { kind: 'expected width', from: 4, to: 6, sigma: 0.1 },
      { kind: 'expected width', from: 6, to: 7, sigma: 0.2 },
    ],
    [
      { ...fix, from: 4, to: 6, level: 2 },
      { ...fix, from: 5, to: 7, level: 2 },
    ],
  ])('%j and %j', (a, b) => {
    expect(defineMethod({ rules: [a, b] }).rules).toStrictEqual([a, b]);
  });
});
