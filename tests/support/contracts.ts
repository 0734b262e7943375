import { expect, test } from 'vitest';
import type { Trace } from '../../src/index.js';
import { expectClose } from './close.js';
import { traceAt } from './traces.js';

const reading = (i: number) => 100 * Math.exp(-0.5 * ((i - 100) / 8) ** 2) + Math.sin(i);

/** Time axes every function from trace to trace has to live with. */
const axes: Readonly<Record<string, ArrayLike<number>>> = {
  'an even axis': Array.from({ length: 201 }, (_, i) => i),
  'a jittered axis': Array.from({ length: 201 }, (_, i) => i + 0.3 * Math.sin(7 * i)),
  'an axis with a gap': Array.from({ length: 201 }, (_, i) => (i < 120 ? i : i + 30)),
  'negative times': Array.from({ length: 201 }, (_, i) => i - 50),
};

/** What every function from trace to trace promises that leaves the time axis alone. Call it once per function. */
export function keepsTraceContract(name: string, apply: (trace: Trace) => Trace): void {
  for (const [axis, time] of Object.entries(axes)) {
    const input = traceAt(time, reading);

    test(`${name} does not change its input on ${axis}`, () => {
      const before = structuredClone(input);
      apply(input);
      expect(input).toStrictEqual(before);
    });
    test(`${name} keeps ${axis}, the length, the gaps and what is known about the record`, () => {
      const output = apply(input);
      expect(output.time).toStrictEqual(input.time);
      expect(output.signal).toHaveLength(input.signal.length);
      expect(output.gaps).toStrictEqual(input.gaps);
      expect(output.meta).toStrictEqual(input.meta);
    });
    test(`${name} gives the same bits twice, and finite ones, on ${axis}`, () => {
      expect(apply(input)).toStrictEqual(apply(input));
      expect(Array.from(apply(input).signal).every(Number.isFinite)).toBe(true);
    });
    test(`${name} scales with the signal on ${axis}`, () => {
      const doubled = traceAt(time, (i) => 2 * input.signal[i]!);
      const twice = Array.from(apply(input).signal, (y) => 2 * y);
      expectClose(apply(doubled).signal, twice, 1e-12);
    });
  }
}

/** Runs `act` and gives back the code, message and details of the error it throws. */
export function thrownBy(act: () => unknown): { code: string; message: string; details: Record<string, unknown> } {
  try {
    act();
  } catch (error) {
    const { code, message, details } = error as { code: string; message: string; details: Record<string, unknown> };
    return { code, message, details };
  }
  throw new Error('nothing was thrown');
}
