import * as library from '../src/index.js';

/**
 * What the library exports under a name, or undefined; the caller says what
 * type it expects. Benches say what they could not measure.
 */
export function libraryExport(name: string): unknown {
  return (library as Record<string, unknown>)[name];
}

/** Prints a gate and remembers a failure in the exit code. */
export function gate(text: string, value: number, limit: number, aim?: number): void {
  const good = Number.isFinite(value) && value <= limit;
  const aimed = aim === undefined ? '' : `, aim ${aim}${value <= aim ? ' reached' : ' not reached'}`;
  console.log(`${good ? 'PASS' : 'FAIL'}  ${text}: ${value.toPrecision(4)} (limit ${limit}${aimed})`);
  if (!good) process.exitCode = 1;
}

/** Says that something could not be measured, and fails. */
export function unmeasured(text: string): void {
  console.log(`FAIL  ${text}`);
  process.exitCode = 1;
}

/** NaN for none. */
export function median(values: readonly number[]): number {
  if (values.length === 0) return NaN;
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
}
