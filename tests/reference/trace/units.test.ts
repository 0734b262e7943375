import { expect, test } from 'vitest';
import { convertSignal, type SignalUnit } from '../../../src/index.js';
import { traceAt } from '../../support/traces.js';

/**
 * A Gaussian of 100 mAU with standard deviation 0.05 min has the area
 * 100 x 0.05 x sqrt(2 pi) = 12.533141373 mAU min = 751.988482389 mAU s; in other
 * units by 1 AU = 1000 mAU = 10^6 µAU, 1 V = 1000 mV = 10^6 µV and the stated
 * V/AU. The trapezoid rule on a Gaussian sampled at a tenth of its standard
 * deviation is exact to the digits of double precision.
 */
const time = Array.from({ length: 401 }, (_, i) => 4 + i / 200);
const peak = traceAt(time, (i) => 100 * Math.exp(-0.5 * ((time[i]! - 5) / 0.05) ** 2));

const areaInSeconds = (signal: Float64Array) => (signal.reduce((sum, y) => sum + y, 0) / 200) * 60;

test.each<[SignalUnit, number, number]>([
  ['mAU', 1, 751.988482389],
  ['AU', 1, 0.751988482389],
  ['µAU', 1, 751988.482389],
  ['mV', 1, 751.988482389],
  ['µV', 1, 751988.482389],
  ['µV', 2, 1503976.964779],
  ['V', 0.1, 0.0751988482389],
])('the reference peak has the right area in %s s at %s V/AU', (unit, voltPerAbsorbance, expected) => {
  const { signal } = convertSignal(peak, unit, { scale: { voltPerAbsorbance } });
  expect(areaInSeconds(signal) / expected).toBeCloseTo(1, 11);
});
