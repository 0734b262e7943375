/**
 * A peak of height 1 with its apex at 0; widths and area found numerically
 * from the function itself, so that no closed formula is taken on trust.
 */
export interface PeakShape {
  /** For listings. */
  readonly name: string;
  /** [-] Value at a distance [min] from the apex. */
  readonly value: (distance: number) => number;
  /** [min] Outside these distances the value is below 1e-7. */
  readonly from: number;
  readonly to: number;
  /** [min] Area of the peak of height 1. */
  readonly area: number;
  /** [min] Full width at half height. */
  readonly halfWidth: number;
  /** [min] Distances from the apex at 5 % of the height; the first is negative. */
  readonly left5: number;
  readonly right5: number;
}

export function gaussian(sigma: number): PeakShape {
  return createShape('gaussian', (x) => Math.exp((-x * x) / (2 * sigma * sigma)), sigma, sigma);
}

/** Gaussian with different widths before and after the apex. */
export function splitGaussian(left: number, right: number): PeakShape {
  const value = (x: number): number => {
    const s = x < 0 ? left : right;
    return Math.exp((-x * x) / (2 * s * s));
  };
  return createShape('split gaussian', value, left, right);
}

/** Exponentially modified Gaussian; a negative tau gives a fronting peak. */
export function modifiedGaussian(sigma: number, tau: number): PeakShape {
  const sign = tau < 0 ? -1 : 1;
  const value = (x: number): number => emg(sign * x, sigma, Math.abs(tau));
  const tail = sigma + 3 * Math.abs(tau);
  return createShape(tau < 0 ? 'fronting emg' : 'emg', value, sign > 0 ? sigma : tail, sign > 0 ? tail : sigma);
}

/** Log-normal of Fraser and Suzuki (1969): width at half height w, asymmetry a. */
export function logNormal(sigma: number, a: number): PeakShape {
  const w = 2.3548200450309493 * sigma;
  const value = (x: number): number => {
    const inner = 1 + (2 * a * x) / w;
    if (inner <= 0) return 0;
    const l = Math.log(inner) / a;
    return Math.exp(-Math.LN2 * l * l);
  };
  return createShape('log-normal', value, 2 * sigma, 2 * sigma);
}

/** A narrow zone with a small share of molecules delayed by a second, slow adsorption site. */
export function secondSite(sigma: number, tau: number, share: number, slow: number): PeakShape {
  const value = (x: number): number => (1 - share) * emg(x, sigma, tau) + share * emg(x, sigma, slow);
  return createShape('second site', value, sigma, sigma + 3 * slow);
}

/** Unit area, Gaussian part centred at 0. */
function emg(x: number, sigma: number, tau: number): number {
  const z = (sigma / tau - x / sigma) / Math.SQRT2;
  const half = 1 / (2 * tau);
  if (z > 0) return half * Math.exp((-x * x) / (2 * sigma * sigma)) * scaledErfc(z);
  const e = (sigma * sigma) / (2 * tau * tau) - x / tau;
  return half * (2 * Math.exp(e) - Math.exp((-x * x) / (2 * sigma * sigma)) * scaledErfc(-z));
}

/** exp(x²) erfc(x) for x ≥ 0: Maclaurin series of erf below 2, continued fraction (Lentz) above. */
function scaledErfc(x: number): number {
  if (x < 2) {
    let term = x;
    let sum = x;
    for (let n = 1; n < 60; n++) {
      term *= (-x * x) / n;
      sum += term / (2 * n + 1);
    }
    return Math.exp(x * x) * (1 - (2 / Math.sqrt(Math.PI)) * sum);
  }
  let fraction = x;
  for (let n = 60; n >= 1; n--) fraction = x + n / 2 / fraction;
  return 1 / (Math.sqrt(Math.PI) * fraction);
}

function createShape(name: string, raw: (x: number) => number, left: number, right: number): PeakShape {
  // the mode lies within a few widths: scan, then golden section
  let low = -6 * left;
  let high = 6 * right;
  let best = 0;
  for (let i = 0; i <= 600; i++) {
    const x = low + ((high - low) * i) / 600;
    if (raw(x) > raw(best)) best = x;
  }
  const step = (high - low) / 600;
  const mode = goldenMaximum(raw, best - step, best + step);
  const top = raw(mode);
  const value = (x: number): number => raw(x + mode) / top;
  const edge = (direction: number, level: number): number => {
    let inside = 0;
    let outside = (direction * (left + right)) / 2;
    while (value(outside) > level) outside *= 1.5;
    for (let i = 0; i < 70; i++) {
      const middle = (inside + outside) / 2;
      if (value(middle) > level) inside = middle;
      else outside = middle;
    }
    return outside;
  };
  low = edge(-1, 1e-7);
  high = edge(1, 1e-7);
  // Simpson, apex at a node (a split Gaussian has its kink there)
  const simpson = (a: number, b: number): number => {
    const n = 2000;
    const h = (b - a) / n;
    let sum = value(a) + value(b);
    for (let i = 1; i < n; i++) sum += (i % 2 === 1 ? 4 : 2) * value(a + i * h);
    return (sum * h) / 3;
  };
  return {
    name,
    value,
    from: low,
    to: high,
    area: simpson(low, 0) + simpson(0, high),
    halfWidth: edge(1, 0.5) - edge(-1, 0.5),
    left5: edge(-1, 0.05),
    right5: edge(1, 0.05),
  };
}

function goldenMaximum(f: (x: number) => number, from: number, to: number): number {
  const g = (Math.sqrt(5) - 1) / 2;
  let a = from;
  let b = to;
  for (let i = 0; i < 60; i++) {
    const c = b - g * (b - a);
    const d = a + g * (b - a);
    if (f(c) > f(d)) b = d;
    else a = c;
  }
  return (a + b) / 2;
}
