/** Mean, standard deviation, root mean square and standard error of the mean of some numbers. */
export function statistics(values: readonly number[]): {
  readonly mean: number;
  readonly deviation: number;
  readonly rms: number;
  readonly error: number;
} {
  const n = values.length;
  const mean = values.reduce((sum, v) => sum + v, 0) / n;
  const squares = values.reduce((sum, v) => sum + v * v, 0);
  const deviation = Math.sqrt(Math.max(0, (squares - n * mean * mean) / (n - 1)));
  return { mean, deviation, rms: Math.sqrt(squares / n), error: deviation / Math.sqrt(n) };
}
