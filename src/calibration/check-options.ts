import { failOption } from '../core/index.js';

/** Refuses the value of an option that is not in order. */
export function checkOption(caller: string, field: string, value: unknown, inOrder: boolean, expected: string): void {
  if (!inOrder) failOption(caller, field, expected, value);
}

/** Refuses a value that is none of the choices. */
export function checkChoice(caller: string, field: string, value: string, choices: readonly string[]): void {
  checkOption(caller, field, value, choices.includes(value), choices.map((each) => `'${each}'`).join(' or '));
}

/** Refuses a confidence that is no share. */
export function checkConfidence(caller: string, confidence: number): void {
  checkOption(caller, 'confidence', confidence, confidence > 0 && confidence < 1, 'between 0 and 1');
}
