import { baselineUncertaintyAt, type Baseline } from '../baseline/index.js';
import type { FittedCurve, IntegratedPeak } from '../integration/index.js';
import { polylineAt } from '../numeric/index.js';
import type { Noise } from '../signal/index.js';
import type { Peak } from './analysis.js';
import { noiseOfMean } from './noise-of-mean.js';

/**
 * One standard uncertainty of an area. Where a curve was fitted, that of the fit.
 * Elsewhere from the noise of the samples, correlation counted, and the baseline,
 * taken as off by its own uncertainty all along the peak; what a drop line may have
 * moved from one peak to another is not in it.
 *
 * @param step - [min] Distance of the samples.
 */
export function areaUncertainty(
  peak: IntegratedPeak,
  noise: Noise,
  step: number,
  baseline: Baseline,
  curve: FittedCurve | undefined,
): Pick<Peak, 'areaUncertainty' | 'areaUncertaintyParts'> {
  const span = peak.end - peak.start;
  const rounding = 60 * span * roundingOf(noise);
  if (curve?.areaUncertainty !== undefined && curve.areaUncertaintyParts !== undefined) {
    const { areaUncertainty: alone, areaUncertaintyParts: parts } = curve;
    if (rounding === 0) return { areaUncertainty: alone, areaUncertaintyParts: parts };
    return {
      areaUncertainty: Math.sqrt(alone * alone + rounding * rounding),
      areaUncertaintyParts: { ...parts, baseline: Math.sqrt(parts.baseline * parts.baseline + rounding * rounding) },
    };
  }
  const reading = polylineAt(noise.along, (peak.start + peak.end) / 2);
  const fromNoise = 60 * span * noiseOfMean(reading, noise.correlation, span / step);
  const level = (baselineUncertaintyAt(baseline, peak.start) + baselineUncertaintyAt(baseline, peak.end)) / 2;
  const fromBaseline = Math.sqrt(square(60 * span * level) + rounding * rounding);
  return {
    areaUncertainty: Math.sqrt(fromNoise * fromNoise + fromBaseline * fromBaseline),
    areaUncertaintyParts: { noise: fromNoise, baseline: fromBaseline },
  };
}

/** [signal unit] A level that rounding hides: without noise to stir it, a step does not average out (JCGM 100:2008, F.2.2.1). */
function roundingOf({ quantisation = 0, warnings = [] }: Noise): number {
  return warnings.some(({ code }) => code === 'noise-hidden') ? quantisation / Math.sqrt(12) : 0;
}

function square(x: number): number {
  return x * x;
}
