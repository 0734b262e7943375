import { baselineAt, baselineUncertaintyAt, type Baseline } from '../baseline/index.js';
import { polylineAt } from '../numeric/index.js';
import type { Trace } from '../trace/index.js';
import { polylineIntegral } from './polyline-integral.js';
import type { Rule } from './rule.js';

/** [-] Part of the stretch over which the signal is averaged about a point the baseline must pass through. */
const averaged = 1 / 20;
/** [-] Part of the stretch within which a fixed level steps to that of the baseline beside it. */
const stepLength = 1e-6;

/** A baseline under the rules that speak of it; the same object when none does. */
export function ruleBaseline(trace: Trace, baseline: Baseline, rules: readonly Rule[]): Baseline {
  let laid = baseline;
  for (const rule of rules) {
    const { from, to } = rule;
    if (rule.kind === 'fix the baseline level') {
      const level = rule.level ?? baselineAt(laid, from);
      const beside = stepLength * (to - from);
      laid = relay(laid, [from - beside, from, to, to + beside], (t, y) => (t >= from && t <= to ? level : y));
    }
    if (rule.kind === 'baseline must pass through') {
      const { at } = rule;
      const off = (rule.level ?? meanOf(trace, at, averaged * (to - from))) - baselineAt(laid, at);
      const bend = (t: number): number =>
        t <= from || t >= to ? 0 : t < at ? (t - from) / (at - from) : (to - t) / (to - at);
      laid = relay(laid, [from, at, to], (t, y) => y + off * bend(t));
    }
  }
  return laid;
}

/** The baseline with knots more, and levels changed at all of them. */
function relay(baseline: Baseline, more: readonly number[], level: (t: number, y: number) => number): Baseline {
  const time = [...new Set([...baseline.time, ...more])].sort((a, b) => a - b);
  return {
    ...baseline,
    time,
    value: time.map((t) => level(t, baselineAt(baseline, t))),
    ...(baseline.uncertainty && { uncertainty: time.map((t) => baselineUncertaintyAt(baseline, t)) }),
  };
}

/** Mean of the signal over so long about a time, as far as the record goes; outside, the nearest sample. */
function meanOf({ time, signal }: Trace, at: number, length: number): number {
  const from = Math.max(time[0]!, at - length / 2);
  const to = Math.min(time[time.length - 1]!, at + length / 2);
  const record = { time, value: signal };
  return to > from ? polylineIntegral(record, from, to) / (to - from) : polylineAt(record, at);
}
