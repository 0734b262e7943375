import { baselineUncertaintyAt, type Baseline } from '../baseline/index.js';
import type { FittedCurve, IntegratedPeak } from '../integration/index.js';
import { polylineAt } from '../numeric/index.js';
import type { Noise } from '../signal/index.js';
import type { Peak } from './analysis.js';
import { noiseOfMean } from './within-run.js';

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
  if (curve?.areaUncertainty !== undefined && curve.areaUncertaintyParts !== undefined) {
    const { areaUncertainty, areaUncertaintyParts } = curve;
    return { areaUncertainty, areaUncertaintyParts };
  }
  const span = peak.end - peak.start;
  const reading = polylineAt(noise.along, (peak.start + peak.end) / 2);
  const fromNoise = 60 * span * noiseOfMean(reading, noise.correlation, span / step);
  const fromBaseline =
    (60 * span * (baselineUncertaintyAt(baseline, peak.start) + baselineUncertaintyAt(baseline, peak.end))) / 2;
  return {
    areaUncertainty: Math.sqrt(fromNoise * fromNoise + fromBaseline * fromBaseline),
    areaUncertaintyParts: { noise: fromNoise, baseline: fromBaseline },
  };
}
