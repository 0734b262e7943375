import { log } from './log.js';
import { log1p } from './log1p.js';

/** Lanczos coefficients for g = 607/128, 15 terms (P. Godfrey; widely reprinted). */
const lanczos = [
  0.99999999999999709182, 57.156235665862923517, -59.597960355475491248, 14.136097974741747174, -0.49191381609762019978,
  0.33994649984811888699e-4, 0.46523628927048575665e-4, -0.98374475304879564677e-4, 0.15808870322491248884e-3,
  -0.21026444172410488319e-3, 0.2174396181152126432e-3, -0.16431810653676389022e-3, 0.84418223983852743293e-4,
  -0.2619083840158140867e-4, 0.36899182659531622704e-5,
];

const halfLogTwoPi = 0.91893853320467274178;

/**
 * Natural logarithm of the gamma function for positive arguments, to about
 * 1e-15 of max(1, value).
 *
 * @see C. Lanczos (1964), J. SIAM Numer. Anal. B 1, 86-96. doi:10.1137/0701008
 */
export function logGamma(x: number): number {
  if (x < 0.5) return logGamma(x + 1) - log(x);
  if (x >= 10) return (x - 0.5) * log(x) - x + halfLogTwoPi + stirlingRest(x);
  let series = lanczos[0]!;
  for (let i = 1; i < lanczos.length; i++) series += lanczos[i]! / (x - 1 + i);
  const shifted = x + 607 / 128 - 0.5;
  return (x - 0.5) * log(shifted) - shifted + halfLogTwoPi + log(series);
}

/**
 * Natural logarithm of the beta function of two positive arguments. The large
 * terms are cancelled on paper, so that digits are kept for large arguments
 * (after A. R. DiDonato, A. H. Morris (1992), ACM Trans. Math. Softw. 18,
 * 360-373. doi:10.1145/131766.131776).
 */
export function logBeta(a: number, b: number): number {
  const small = Math.min(a, b);
  const large = Math.max(a, b);
  if (large < 10) return logGamma(small) + logGamma(large) - logGamma(small + large);
  const rest = stirlingRest(large) - stirlingRest(small + large);
  if (small < 10) {
    return logGamma(small) + rest + small - small * log(small + large) - (large - 0.5) * log1p(small / large);
  }
  return (
    halfLogTwoPi +
    stirlingRest(small) +
    rest -
    0.5 * log(large) +
    (small - 0.5) * log(small / (small + large)) -
    large * log1p(small / large)
  );
}

/** What Stirling's formula lacks, for x of at least 10 to below 1e-16 (Abramowitz and Stegun, 6.1.41). */
function stirlingRest(x: number): number {
  const z = 1 / (x * x);
  return (
    (1 / 12 + z * (-1 / 360 + z * (1 / 1260 + z * (-1 / 1680 + z * (1 / 1188 + z * (-691 / 360360 + z / 156)))))) / x
  );
}
