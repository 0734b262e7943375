import type { IntegrationPlan } from '../../src/index.js';
import { groupTouching, type ReportedPeak } from './reported.js';

/** [signal unit] The signal at a time, straight between samples. */
export function signalAt(time: Float64Array, signal: Float64Array, at: number): number {
  let i = 0;
  while (i < time.length - 2 && time[i + 1]! < at) i++;
  const share = Math.min(1, Math.max(0, (at - time[i]!) / (time[i + 1]! - time[i]!)));
  return signal[i]! + share * (signal[i + 1]! - signal[i]!);
}

/** The plan that says what the table says: its limits, one straight line under each group of touching peaks, drop lines inside. */
export function planFromTable(
  time: Float64Array,
  signal: Float64Array,
  reported: readonly ReportedPeak[],
): IntegrationPlan {
  const groups = groupTouching(reported);
  return {
    baselines: groups.map((group, g) => {
      const start = group[0]!.start;
      const end = group[group.length - 1]!.end;
      return {
        id: `table-${g}`,
        kind: 'straight',
        time: [start, end],
        value: [signalAt(time, signal, start), signalAt(time, signal, end)],
      };
    }),
    regions: groups.map((group, g) => ({
      start: group[0]!.start,
      end: group[group.length - 1]!.end,
      peaks: group.map((peak, k) => ({
        id: `table-${g}-${k}`,
        apex: peak.retentionTime,
        start: k === 0 ? peak.start : group[k - 1]!.end,
        end: peak.end,
        startKind: k === 0 ? 'baseline' : 'drop line',
        endKind: k === group.length - 1 ? 'baseline' : 'drop line',
        direction: peak.area < 0 ? 'down' : 'up',
        baseline: `table-${g}`,
        decisions: [],
      })),
    })),
  };
}

/** [signal unit s] The same by plain trapezoids written here, so that integrate is not its own judge. */
export function areaByHand(
  time: Float64Array,
  signal: Float64Array,
  from: number,
  to: number,
  line: readonly [number, number, number, number],
): number {
  const [t0, t1, b0, b1] = line;
  const above = (t: number): number => signalAt(time, signal, t) - (b0 + ((b1 - b0) * (t - t0)) / (t1 - t0));
  const nodes = [from, ...time.filter((t) => t > from && t < to), to];
  let sum = 0;
  for (let i = 1; i < nodes.length; i++)
    sum += ((above(nodes[i - 1]!) + above(nodes[i]!)) / 2) * (nodes[i]! - nodes[i - 1]!);
  return sum * 60;
}
