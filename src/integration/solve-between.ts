/**
 * Root of a function between two places where its sign differs, by the Illinois
 * variant of false position (Dowell and Jarratt, BIT 11 (1971) 168-174; from memory);
 * the place with the smaller value when the signs are the same.
 */
export function solveBetween(f: (x: number) => number, from: number, to: number, within = 1e-9): number {
  let [a, b] = [from, to];
  let [fa, fb] = [f(a), f(b)];
  if (fa * fb > 0) return Math.abs(fa) < Math.abs(fb) ? a : b;
  for (let i = 0; i < 60 && Math.abs(b - a) > within * (Math.abs(a) + Math.abs(b)) && fb !== 0; i++) {
    const x = i % 6 === 5 || fa === fb ? (a + b) / 2 : b - (fb * (b - a)) / (fb - fa);
    const fx = f(x);
    if (fx * fb <= 0) [a, fa] = [b, fb];
    else fa /= 2;
    [b, fb] = [x, fx];
  }
  return b;
}
