import { checkFields, checkNumber, checkOneOf, fail, type Check } from '../core/index.js';

/** Refuses a confidence that is no share. */
export const checkConfidence: Check = (caller, field, value) => {
  checkNumber(caller, field, value, 'between 0 and 1', (share) => share > 0 && share < 1);
};

/** Throws `unit-missing` for a unit that has to be stated. */
export const checkUnit: Check = (caller, field, value) => {
  if (typeof value !== 'string' || value === '')
    fail(caller, 'unit-missing', `state a unit in option ${field}.`, { field });
};

/** The check of a word. */
/* @__NO_SIDE_EFFECTS__ */
export function oneOf(...words: string[]): Check {
  return (caller, field, value) => {
    checkOneOf(caller, field, value, words);
  };
}

/** The check of an object inside the options. */
/* @__NO_SIDE_EFFECTS__ */
export function objectOf(checks: Readonly<Record<string, Check>>): Check {
  return (caller, field, value) => {
    checkFields(caller, checks, value as object, `${field}.`);
  };
}
