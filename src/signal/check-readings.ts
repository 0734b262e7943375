import { fail } from '../core/index.js';
import type { Trace } from '../trace/index.js';

/** Refuses a trace with fewer readings than `least`. */
export function checkReadings(caller: string, trace: Trace, least: number): void {
  const value = trace.time.length;
  if (value >= least) return;
  const expected = `at least ${least} readings`;
  fail(caller, 'trace-too-short', `the trace has ${value} readings; there must be ${expected}.`, { value, expected });
}
