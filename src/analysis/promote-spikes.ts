import type { Candidate, SurveyedRun } from '../peaks/index.js';
import { curvatureFactor, noiseAt, type Spike } from '../signal/index.js';

/**
 * A spike as a candidate, for an analyst who says that it is a peak: it reaches
 * from the last point before it to the first after it, and where it sits on a
 * peak as far as that peak does, so that nothing of either is lost.
 */
export function spikeAsCandidate({ start, end, at, height }: Spike, found: SurveyedRun): Candidate {
  const { noise, pyramid, apart, candidates } = found;
  const place = (at - pyramid.start) / (pyramid.step * pyramid.levels[0]!.length);
  const deviation = noiseAt(noise, 0, place) / curvatureFactor;
  const below = [...apart.map(({ candidate }) => candidate), ...candidates].find(
    ({ from, to }) => from < end && to > start,
  );
  const after = below !== undefined && at > below.apex;
  const before = below !== undefined && !after;
  return {
    apex: at,
    sigma: (end - start) / 4,
    height,
    significance: Math.abs(height) / Math.max(deviation, 1e-12 * Math.abs(height)),
    direction: height > 0 ? 'up' : 'down',
    from: before ? Math.min(start, below.from) : start,
    to: after ? Math.max(end, below.to) : end,
    fromKind: before ? below.fromKind : 'baseline',
    toKind: after ? below.toKind : 'baseline',
  };
}
