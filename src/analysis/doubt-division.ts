import { defined, type Warning } from '../core/index.js';
import { divisionBias, type DivisionBias, type IntegrationPlan } from '../integration/index.js';
import type { Trace } from '../trace/index.js';
import type { Peak } from './analysis.js';
import type { Method } from './method.js';

/**
 * Writes on every conventionally divided peak how far its dividers are likely to be
 * off, and what follows: the size of the bias is the division part of its
 * uncertainty, as one standard uncertainty (a known bias that is not corrected
 * is the root of the mean square by which the area misses), and where no divider comes within
 * what the method allows a warning says so.
 *
 * With `divider: 'fit'` these are regions that a rule divides, and those that no fit follows.
 */
export function doubtDivision(trace: Trace, plan: IntegrationPlan, peaks: readonly Peak[], method: Method): Peak[] {
  const regions = plan.regions.filter((region) => region.curves === undefined && region.peaks.length > 1);
  if (regions.length === 0) return [...peaks];
  const biases = new Map(divisionBias(trace, { ...plan, regions }, method.mostDivisionBias).map((b) => [b.peak, b]));
  return peaks.map((peak) => {
    const found = biases.get(peak.id);
    return found ? withBias(peak, found, peaks) : peak;
  });
}

function withBias(peak: Peak, { bias, worst }: DivisionBias, peaks: readonly Peak[]): Peak {
  const { areaUncertainty: alone, areaUncertaintyParts: parts, warnings } = peak;
  return {
    ...peak,
    divisionBias: bias,
    ...defined({
      areaUncertainty: alone === undefined ? undefined : Math.sqrt(alone * alone + bias * bias),
      areaUncertaintyParts: parts && { ...parts, division: Math.abs(bias) },
    }),
    warnings: worst ? [...warnings, warningFor(peak, worst, peaks)] : warnings,
  };
}

function warningFor(peak: Peak, worst: NonNullable<DivisionBias['worst']>, peaks: readonly Peak[]): Warning {
  const { beside, least, resolution, enough } = worst;
  const neighbour = peaks.find(({ id }) => id === beside);
  const where = neighbour ? ` beside the peak at ${neighbour.retentionTime.toFixed(3)} min` : '';
  const would =
    enough === undefined ? 'no resolution up to 8 would do' : `a resolution of ${enough.toFixed(2)} would do`;
  return {
    code: 'peak-not-quantifiable-by-division',
    message: `The peak at ${peak.retentionTime.toFixed(3)} min is not quantifiable by division${where}: the best divider is off by ${(100 * least).toPrecision(2)} %; the resolution is ${resolution.toFixed(2)}, ${would}.`,
    at: peak.retentionTime,
  };
}
