import type { Warning } from '../core/index.js';

/** A doubt, and whether there is reason for it. */
export type Doubt = readonly [holds: boolean | undefined, code: string, message: string];

/** The doubts for which there is reason, as warnings. */
export function warningsOf(doubts: readonly Doubt[]): Warning[] {
  return doubts.flatMap(([holds, code, message]) => (holds === true ? [{ code, message }] : []));
}
