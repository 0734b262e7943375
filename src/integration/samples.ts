import { firstAtOrAfter } from '../numeric/index.js';

/** [signal unit] Signal at a time, straight between samples, level beyond the ends. */
export function signalAt(time: Float64Array, signal: Float64Array, t: number): number {
  const i = firstAtOrAfter(time, t);
  if (i === 0) return signal[0]!;
  if (i === time.length) return signal[time.length - 1]!;
  const t0 = time[i - 1]!;
  return signal[i - 1]! + ((signal[i]! - signal[i - 1]!) * (t - t0)) / (time[i]! - t0);
}

/** [signal unit min] Integral of the piecewise straight signal between two times inside the record. */
export function signalIntegral(time: Float64Array, signal: Float64Array, from: number, to: number): number {
  if (!(to > from)) return 0;
  const first = firstAtOrAfter(time, from);
  const next = firstAtOrAfter(time, to);
  const yFrom = signalAt(time, signal, from);
  const yTo = signalAt(time, signal, to);
  if (first >= next) return 0.5 * (to - from) * (yFrom + yTo);
  let sum = (time[first]! - from) * (yFrom + signal[first]!);
  for (let i = first; i + 1 < next; i++) sum += (time[i + 1]! - time[i]!) * (signal[i]! + signal[i + 1]!);
  sum += (to - time[next - 1]!) * (signal[next - 1]! + yTo);
  return 0.5 * sum;
}
