import type { SurveyedRun } from '../peaks/index.js';
import type { Noise } from '../signal/index.js';

/** Curvature noise of white noise over its standard deviation, sqrt(1.5). */
const curvatureFactor = 1.224744871391589;

/** The public noise record from the noise by coarseness. */
export function noiseOfRun({ noise, pyramid }: SurveyedRun): Noise {
  const { stretches, quantum } = noise;
  const fine = noise.local[0]!;
  const span = pyramid.step * (pyramid.levels[0]!.length - 1);
  return {
    standardDeviation: noise.level[0]! / curvatureFactor,
    along: {
      time: Array.from(fine, (_, s) => pyramid.start + (span * (s + 0.5)) / stretches),
      value: Array.from(fine, (v) => v / curvatureFactor),
    },
    correlation: 0,
    ...(quantum > 0 ? { quantisation: quantum } : {}),
  };
}
