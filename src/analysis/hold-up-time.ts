import type { SurveyedRun } from '../peaks/index.js';
import type { Trace } from '../trace/index.js';

/**
 * When something that is not retained may have left the column: a candidate for
 * the hold-up time, to be confirmed. No retention factor is made of it.
 *
 * @public
 */
export interface HoldUpTime {
  /** [min] The first extreme of the early disturbance. */
  readonly value: number;
  /** [min] One standard uncertainty: anywhere between first deviation and last extreme is as likely. */
  readonly uncertainty: number;
  /** [min] Where the signal first leaves the baseline. */
  readonly from: number;
  /** [min] The last extreme of the early disturbance. */
  readonly to: number;
  /** What was seen, in a sentence. */
  readonly evidence: string;
  /** What has to be confirmed before it is used. */
  readonly text: string;
}

/** [-] Height of a swing over that of the largest below which it is a ripple on it. */
const leastSwing = 0.2;
/** [sigma] The first deviation lies no further before the first extreme. */
const furthest = 4;

/**
 * The candidate for the hold-up time, from what was set apart as the early disturbance; nothing without one.
 *
 * The hold-up time is the retention time of a component that the column does not retain (L. S. Ettre (1993), Pure
 * Appl. Chem. 65, 819-872; revised 2001, Pure Appl. Chem. 73, 969-992). That the early disturbance marks it is common
 * practice, no source.
 */
export function holdUpTime({ apart }: SurveyedRun, { meta }: Trace): HoldUpTime | undefined {
  const early = apart
    .flatMap(({ kind, candidate }) => (kind === 'early disturbance' ? [candidate] : []))
    .sort((a, b) => a.apex - b.apex);
  const highest = Math.max(...early.map(({ height }) => Math.abs(height)));
  const swings = early.filter(({ height }) => Math.abs(height) >= leastSwing * highest);
  const first = swings[0];
  if (first === undefined || !(first.apex > 0)) return undefined;
  const value = first.apex;
  const from = Math.max(early[0]!.from, value - furthest * first.sigma);
  const to = swings.at(-1)!.apex;
  const name = swings.map(({ direction }) => (direction === 'down' ? 'dip' : 'rise')).join(' and ');
  const origin =
    meta.timeOrigin === 'injection'
      ? ''
      : ' Time counts from the start of the record: it is a hold-up time only if that was the injection.';
  return {
    value,
    uncertainty: Math.max(value - from, to - value) / Math.sqrt(3),
    from,
    to,
    evidence: `A ${name} before every peak, from ${from.toFixed(3)} min, first extreme at ${value.toFixed(3)} min.`,
    text: `Confirm it with a substance that is known not to be retained: solvent and air are often close, not always.${origin}`,
  };
}
