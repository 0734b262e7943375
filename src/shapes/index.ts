export { emg, emgAreaBefore, emgFromApex, emgHeight, emgMode, type EmgShape } from './emg.js';
export { gaussian, gaussianArea, gaussianAreaBefore, type GaussianShape } from './gaussian.js';
export { type PeakFamily, type PeakParameter, type PeakWidth, type ShapeMoments } from './family.js';
export { emgFamily } from './emg-family.js';
export { gaussianFamily } from './gaussian-family.js';
export { splitGaussian, splitGaussianFamily, type SplitGaussianShape } from './split-gaussian.js';
export { logNormal, logNormalFamily, type LogNormalShape } from './log-normal.js';
export {
  haarhoffVanDerLinde,
  haarhoffVanDerLindeFamily,
  type HaarhoffVanDerLindeShape,
} from './haarhoff-van-der-linde.js';
export { emgWithSlowTail, emgWithSlowTailFamily, type EmgWithSlowTailShape } from './emg-with-slow-tail.js';
export { polynomialGaussian, polynomialGaussianFamily, type PolynomialGaussianShape } from './polynomial-gaussian.js';
export {
  exponentialGaussianHybrid,
  exponentialGaussianHybridFamily,
  type ExponentialGaussianHybridShape,
} from './exponential-gaussian-hybrid.js';
