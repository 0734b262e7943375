export { fUpperTail } from './f-distribution.js';
export { solveLeastSquares, type LeastSquaresFit } from './least-squares.js';
export { coverageFactor, studentTUpperQuantile, studentTUpperTail } from './student-t.js';
export { erfc, erfcx } from './erfcx.js';
export { exp } from './exp.js';
export { log } from './log.js';
export { penalisedWork, solvePenalised, type PenalisedWork } from './penalised-spline.js';
export { quantileInPlace, selectInPlace } from './selection.js';
export { createWorkspace, type Workspace } from './workspace.js';
export { locateApex, threePoints, type Apex, type ApexQuestion } from './apex.js';
export { crossOutward, timeAbove, type Crossing } from './level-crossing.js';
export { fitLocalPolynomial } from './local-polynomial.js';
export {
  createStretch,
  fillStretch,
  firstAtOrAfter,
  firstEntryFrom,
  lastEntryTo,
  polylineAt,
  valueAt,
  type Polyline,
  type Stretch,
} from './stretch.js';
export { differenceNoise } from './difference-noise.js';
export { interpolateLinear } from './interpolate-linear.js';
export { savitzkyGolay, type SavitzkyGolayFit } from './savitzky-golay.js';
