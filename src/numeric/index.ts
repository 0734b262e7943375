export { fUpperTail } from './f-distribution.js';
export { solveLeastSquares, type LeastSquaresFit } from './least-squares.js';
export {
  fitLeastSquares,
  type LeastSquaresProblem,
  type NonlinearFit,
  type ReachedFit,
} from './levenberg-marquardt.js';
export { coverageFactor, studentTUpperQuantile, studentTUpperTail } from './student-t.js';
export { erfc, erfcx } from './erfcx.js';
export { exp } from './exp.js';
export { expm1 } from './expm1.js';
export { log } from './log.js';
export { log1p } from './log1p.js';
export { penalisedWork, solvePenalised, type PenalisedWork } from './penalised-spline.js';
export { quantileInPlace, selectInPlace } from './selection.js';
export { createWorkspace, type Workspace } from './workspace.js';
export { locateApex, threePoints, type Apex, type ApexQuestion } from './apex.js';
export { findFlatTop, type FlatTop } from './flat-top.js';
export { halfWidthOfSigma, liftPeak, type LiftedPeak } from './flanks.js';
export { crossOutward } from './level-crossing.js';
export { rangeAboutLine } from './range-about-line.js';
export { settleFit, type SettledFit } from './local-polynomial.js';
export {
  firstAtOrAfter,
  liftStretch,
  nextAtOrAfter,
  pieceAt,
  polylineAt,
  type Polyline,
  type Stretch,
} from './stretch.js';
export { joinStretches, type JoinedStretches } from './join-stretches.js';
export { differenceNoise } from './difference-noise.js';
export { interpolateLinear } from './interpolate-linear.js';
export { savitzkyGolay, type SavitzkyGolayFit } from './savitzky-golay.js';
export { sha256 } from './sha256.js';
export { sineOfTurns } from './sine.js';
