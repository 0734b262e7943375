import { expect } from 'vitest';
import type { Peak } from '../../src/index.js';

/** The peak whose apex is within two hundredths of a minute of a time. */
export function peakAt(peaks: readonly Peak[], time: number): Peak {
  const found = peaks.filter((p) => Math.abs(p.retentionTime - time) < 0.02);
  expect(found, `peaks at ${time}: ${peaks.map((p) => p.retentionTime.toFixed(2)).join(' ')}`).toHaveLength(1);
  return found[0]!;
}

/** The law: within 0.05 % of the area or a twentieth of its uncertainty, whichever is larger. */
export function expectLocal(received: Peak, expected: Peak): void {
  const allowed = Math.max(0.0005 * Math.abs(expected.area), 0.05 * expected.areaUncertainty!);
  const off = received.area - expected.area;
  expect(
    Math.abs(off),
    `peak at ${expected.retentionTime.toFixed(2)}: area ${expected.area.toFixed(4)} ± ${expected.areaUncertainty!.toFixed(4)} moved by ${off.toFixed(4)} (${((100 * off) / expected.area).toFixed(3)} %, ${(off / expected.areaUncertainty!).toFixed(2)} u)`,
  ).toBeLessThanOrEqual(allowed);
}
