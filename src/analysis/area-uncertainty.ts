import { baselineUncertaintyAt, type Baseline } from '../baseline/index.js';
import type { FittedCurve, IntegratedPeak } from '../integration/index.js';
import type { SurveyedRun } from '../peaks/index.js';
import { curvatureFactor, noiseAt } from '../signal/index.js';
import type { Peak } from './analysis.js';

/**
 * One standard uncertainty of an area from the noise of its samples and from
 * its baseline. The noise of a mean over the whole width of the peak is read off
 * the noise at that coarseness, so that correlation counts; the baseline is
 * taken as off by its own uncertainty all along the peak. A peak that a fit
 * divided has what the fit leaves open besides; what a drop line may have moved
 * from one peak to another is not in it.
 */
export function areaUncertainty(
  peak: IntegratedPeak,
  { noise, pyramid }: SurveyedRun,
  baseline: Baseline,
  curve: FittedCurve | undefined,
): Pick<Peak, 'areaUncertainty' | 'areaUncertaintyParts'> {
  if (curve?.areaUncertainty !== undefined && curve.areaUncertaintyParts !== undefined) {
    const { areaUncertainty, areaUncertaintyParts } = curve;
    return { areaUncertainty, areaUncertaintyParts };
  }
  const span = peak.end - peak.start;
  const points = Math.max(1, span / pyramid.step);
  let level = 0;
  let box = 1;
  while (2 * box <= points && level + 1 < noise.level.length) {
    level++;
    box *= 2;
  }
  const place = ((peak.start + peak.end) / 2 - pyramid.start) / (pyramid.step * pyramid.levels[0]!.length);
  const mean = (noiseAt(noise, level, place) / curvatureFactor) * Math.sqrt(box / points);
  const fromNoise = 60 * span * mean;
  const fromBaseline =
    (60 * span * (baselineUncertaintyAt(baseline, peak.start) + baselineUncertaintyAt(baseline, peak.end))) / 2;
  return {
    areaUncertainty: Math.sqrt(fromNoise * fromNoise + fromBaseline * fromBaseline),
    areaUncertaintyParts: { noise: fromNoise, baseline: fromBaseline },
  };
}
