import type { Divider } from './plan.js';

/**
 * A stretch of the run over which a rule holds.
 *
 * @public
 */
export interface RuleSpan {
  /** [min] Start, included. */
  readonly from: number;
  /** [min] End, included. Later than `from`; a split may be given a single place. */
  readonly to: number;
  /** Why the rule was made. An exclusion needs one; it is reported with what it hides. */
  readonly reason?: string;
}

/**
 * Peaks are integrated within the stretch only; of several such rules, within any of them. What lies outside is
 * integrated in the background, and reported as hidden.
 *
 * @public
 */
export interface OnlyWithinRule extends RuleSpan {
  /** What it says. */
  readonly kind: 'integrate only within';
  /** Why what lies outside does not count. */
  readonly reason: string;
}

/**
 * No peak has its apex in the stretch and none reaches into it. What lies there is integrated in the background, and
 * reported as hidden.
 *
 * @public
 */
export interface NoPeaksRule extends RuleSpan {
  /** What it says. */
  readonly kind: 'no peaks within';
  /** Why what lies there does not count. */
  readonly reason: string;
}

/**
 * A dip whose apex is in the stretch is a peak: neither an early disturbance nor ground between upward peaks.
 *
 * @public
 */
export interface DownwardRule extends RuleSpan {
  /** What it says. */
  readonly kind: 'downward peaks expected';
}

/**
 * The peak there becomes two, with a drop line at the valley between `from` and `to`; exactly there when they are equal.
 *
 * @public
 */
export interface SplitRule extends RuleSpan {
  /** What it says. */
  readonly kind: 'split at';
}

/**
 * Peaks and disturbances whose apexes are in the stretch become one peak, with all that lies between them.
 *
 * @public
 */
export interface TogetherRule extends RuleSpan {
  /** What it says. */
  readonly kind: 'keep together';
}

/**
 * The baseline is level over the stretch.
 *
 * @public
 */
export interface FixedLevelRule extends RuleSpan {
  /** What it says. */
  readonly kind: 'fix the baseline level';
  /** [signal unit] The level. Left out: that of the baseline at `from`. */
  readonly level?: number;
}

/**
 * The baseline is bent to a point: by nothing at `from` and `to`, by all at `at`, in proportion between.
 *
 * @public
 */
export interface PassThroughRule extends RuleSpan {
  /** What it says. */
  readonly kind: 'baseline must pass through';
  /** [min] Where, between `from` and `to`. */
  readonly at: number;
  /** [signal unit] The level. Left out: the mean of the signal over a twentieth of the stretch about `at`. */
  readonly level?: number;
}

/**
 * Dividers that lie in the stretch, between peaks that touch, are of the stated sort.
 *
 * @public
 */
export interface DivideByRule extends RuleSpan {
  /** What it says. */
  readonly kind: 'divide by';
  /** See {@link Divider}; where a skim cannot be laid, a drop line, and the decisions say why. */
  readonly divider: Divider;
}

/**
 * A peak whose apex is in the stretch and that has less is rejected. Its neighbours keep their limits.
 *
 * @public
 */
export interface LeastRule extends RuleSpan {
  /** What it says; a signal-to-noise ratio that is not known fails nobody. */
  readonly kind: 'least height' | 'least area' | 'least signal-to-noise';
  /** [signal unit, signal unit s or -] The least height, area (both without sign) or signal-to-noise ratio. */
  readonly least: number;
}

/**
 * Peaks in the stretch are about so wide: 0.3 times to 3 times. What is narrower or broader there is rejected; what
 * is as wide is neither a spike beside broader neighbours nor too broad among narrower ones.
 *
 * @public
 */
export interface ExpectedWidthRule extends RuleSpan {
  /** What it says. */
  readonly kind: 'expected width';
  /** [min] Standard deviation of the peaks: their width at half height over 2.355. */
  readonly sigma: number;
}

/**
 * A rule for a stretch of the run: plain data. Rules are obeyed in the order of the list: first those about what to expect
 * and about the baseline, then those about limits and exclusions, last those about the least of a peak.
 *
 * @public
 */
export type Rule =
  | OnlyWithinRule
  | NoPeaksRule
  | DownwardRule
  | SplitRule
  | TogetherRule
  | FixedLevelRule
  | PassThroughRule
  | DivideByRule
  | LeastRule
  | ExpectedWidthRule;

/** Short and complete: what the rule says and where, for texts. */
export function nameRule(rules: readonly Rule[], i: number): string {
  const { kind, from, to } = rules[i]!;
  return `rule ${i + 1} (${kind} ${from === to ? `${from}` : `${from} to ${to}`} min)`;
}

/** Whether a time lies in the stretch of a rule, ends included. */
export function covers({ from, to }: { readonly from: number; readonly to: number }, t: number): boolean {
  return t >= from && t <= to;
}

/** Stretches that the rules exclude, each with the index of its rule, in the order of the rules. */
export function exclusionsOf(rules: readonly Rule[]): { from: number; to: number; rule: number }[] {
  const only = rules.filter((r) => r.kind === 'integrate only within').sort((a, b) => a.from - b.from);
  const excluded: { from: number; to: number; rule: number }[] = [];
  rules.forEach((r, rule) => {
    if (r.kind === 'no peaks within') excluded.push({ from: r.from, to: r.to, rule });
    if (r !== rules.find((each) => each.kind === 'integrate only within')) return;
    let from = -Infinity;
    for (const window of [...only, { from: Infinity, to: Infinity }]) {
      if (window.from > from) excluded.push({ from, to: window.from, rule });
      from = Math.max(from, window.to);
    }
  });
  return excluded;
}
