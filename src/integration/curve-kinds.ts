import {
  emgFamily,
  emgWithSlowTailFamily,
  haarhoffVanDerLindeFamily,
  logNormalFamily,
  polynomialGaussianFamily,
  splitGaussianFamily,
  type PeakFamily,
} from '../shapes/index.js';

/**
 * Name of a shape a peak may be fitted with.
 *
 * @public
 */
export type CurveKind =
  'tailing' | 'fronting' | 'log-normal' | 'split Gaussian' | 'slow tail' | 'overloaded' | 'polynomial';

/** What a fit must know of a kind of curve. */
export interface CurveRule {
  readonly family: PeakFamily;
  /** Parameters to begin with for a peak of this height, apex and standard deviation. */
  readonly start: (height: number, apex: number, sigma: number) => readonly number[];
  /** Bounds of the parameters after the first, about the apex and standard deviation that were seen. */
  readonly lower: (apex: number, sigma: number) => readonly number[];
  readonly upper: (apex: number, sigma: number) => readonly number[];
  /** Whether the third and the fourth parameter are the standard deviation and the time constant of an exponential. */
  readonly exponential: boolean;
  /** Standard deviation over the third parameter. */
  readonly perSigma: number;
  /** What its other parameters usually are, for the standard deviation that was seen; at most two. */
  readonly usual?: (sigma: number) => readonly Habit[];
}

/** Parameter, what it usually is, and how far it may be from that. */
export type Habit = readonly [parameter: number, value: number, spread: number];

const rootTwoPi = 2.5066282746310002;
/** Of an exponentially modified Gaussian of tau 0.44 sigma: apex after the mean, and height times sigma over the area. */
const lag = 0.386;
const top = 0.3715;

/** The kinds of curve; made when asked for. */
export const curveRules: Readonly<Record<CurveKind, CurveRule>> = {
  tailing: {
    family: emgFamily,
    start: (height, apex, sigma) => [(height * 0.9 * sigma) / top, apex - lag * 0.9 * sigma, 0.9 * sigma, 0.4 * sigma],
    lower: (apex, sigma) => [apex - 4 * sigma, 0.25 * sigma, 0],
    upper: (apex, sigma) => [apex + 2 * sigma, 2.5 * sigma, 8 * sigma],
    exponential: true,
    perSigma: 1,
  },
  fronting: {
    family: emgFamily,
    start: (height, apex, sigma) => [(height * 0.9 * sigma) / top, apex + lag * 0.9 * sigma, 0.9 * sigma, -0.4 * sigma],
    lower: (apex, sigma) => [apex - 2 * sigma, 0.25 * sigma, -5 * sigma],
    upper: (apex, sigma) => [apex + 4 * sigma, 2.5 * sigma, 0],
    exponential: true,
    perSigma: 1,
  },
  'log-normal': {
    family: logNormalFamily,
    start: (height, apex, sigma) => [height, apex, 2.2 * sigma, 0.15],
    lower: (apex, sigma) => [apex - 2 * sigma, 0.6 * sigma, -0.7],
    upper: (apex, sigma) => [apex + 2 * sigma, 6 * sigma, 0.7],
    exponential: false,
    perSigma: 1 / 2.354820045030949,
    usual: () => [[3, 0.1, 0.12]],
  },
  'split Gaussian': {
    family: splitGaussianFamily,
    start: (height, apex, sigma) => [height, apex, 0.9 * sigma, 1.1 * sigma],
    lower: (apex, sigma) => [apex - 2 * sigma, 0.2 * sigma, 0.2 * sigma],
    upper: (apex, sigma) => [apex + 2 * sigma, 3 * sigma, 3 * sigma],
    exponential: false,
    perSigma: 1,
  },
  'slow tail': {
    family: emgWithSlowTailFamily,
    start: (height, apex, sigma) => [
      height * sigma * rootTwoPi * 1.05,
      apex - 0.3 * sigma,
      0.9 * sigma,
      0.3 * sigma,
      0.06,
      4 * sigma,
    ],
    lower: (apex, sigma) => [apex - 4 * sigma, 0.25 * sigma, 0, 0, 1.5 * sigma],
    upper: (apex, sigma) => [apex + 2 * sigma, 2.5 * sigma, 3 * sigma, 0.35, 12 * sigma],
    exponential: true,
    perSigma: 1,
    // Without this a background that bends is taken for a tail.
    usual: (sigma) => [
      [4, 0.05, 0.05],
      [5, 4 * sigma, 1.2 * sigma],
    ],
  },
  overloaded: {
    family: haarhoffVanDerLindeFamily,
    start: (height, apex, sigma) => [height * sigma * rootTwoPi, apex + 0.3 * sigma, 0.8 * sigma, 1],
    lower: (apex, sigma) => [apex - 4 * sigma, 0.1 * sigma, -30],
    upper: (apex, sigma) => [apex + 6 * sigma, 2.5 * sigma, 30],
    exponential: false,
    perSigma: 1,
  },
  polynomial: {
    family: polynomialGaussianFamily,
    start: (height, apex, sigma) => [height, apex, sigma, 0.08, 0],
    lower: (apex, sigma) => [apex - 2 * sigma, 0.3 * sigma, -0.5, -0.5 / sigma],
    upper: (apex, sigma) => [apex + 2 * sigma, 2.5 * sigma, 0.5, 0.5 / sigma],
    exponential: false,
    perSigma: 1,
    usual: (sigma) => [
      [3, 0.05, 0.09],
      [4, 0, 0.06 / sigma],
    ],
  },
};

/** The kinds in the order in which they are tried. */
export const curveKinds = Object.keys(curveRules) as readonly CurveKind[];
