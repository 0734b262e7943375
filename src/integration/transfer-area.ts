import type { AreaTransfer, IntegratedPeak } from './integrated-peak.js';
import type { PlannedPeak } from './plan.js';

/**
 * Takes the area of every peak that rides off the peak it rides on, and says so.
 *
 * @param planned - The peaks of a region.
 * @param peaks - All peaks measured so far, those of the region last, each with the area between its limits; these are replaced.
 * @returns [signal unit s] Area of the region: of the peaks that ride on none, before anything was taken off.
 */
export function transferToRiders(planned: readonly PlannedPeak[], peaks: IntegratedPeak[]): number {
  const first = peaks.length - planned.length;
  const whole = peaks.slice(first);
  let area = 0;
  planned.forEach(({ id, rides }, i) => {
    if (rides === undefined) area += whole[i]!.area;
    const transfers = planned.flatMap((rider, k): AreaTransfer[] =>
      rider.rides === id ? [{ to: rider.id, area: whole[k]!.area }] : [],
    );
    if (transfers.length === 0) return;
    const left = transfers.reduce((sum, transfer) => sum - transfer.area, whole[i]!.area);
    peaks[first + i] = { ...whole[i]!, area: left, transfers };
  });
  return area;
}
