import { createTrace, type Trace } from '../../src/index.js';

/** A trace in mAU of n samples one minute apart, reading `signal(i)` at minute i. */
export function traceOf(n: number, signal: (i: number) => number): Trace {
  return traceAt(
    Array.from({ length: n }, (_, i) => i),
    signal,
  );
}

/** A trace in mAU at the given minutes, reading `signal(i)` at sample i. */
export function traceAt(time: ArrayLike<number>, signal: (i: number) => number): Trace {
  return createTrace({
    time,
    signal: Float64Array.from({ length: time.length }, (_, i) => signal(i)),
    timeUnit: 'min',
    signalUnit: 'mAU',
  });
}

/** Numbers from 0 to 1 that look random and are the same in every run (a linear congruential generator modulo 2^31). */
export function repeatableNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1103515245) + 12345) & 0x7fffffff;
    return state / 0x80000000;
  };
}

/** Numbers with the standard normal distribution that are the same in every run. */
export function repeatableNormals(seed: number): () => number {
  const uniform = repeatableNumbers(seed);
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
