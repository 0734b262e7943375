import type { Baseline } from '../baseline/index.js';
import { checkFields, checkNumber, checkOneOf, failOption, optional, type Check } from '../core/index.js';
import { polylineAt } from '../numeric/index.js';
import { emgMode } from '../shapes/index.js';
import type { Trace } from '../trace/index.js';
import type { Choose } from './lay-skims.js';
import { emgHalves } from './emg-halves.js';
import { heightOf, pairOf, type EmgPair } from './pair-shape.js';
import { dividers, type Decision, type Divider, type PlannedPeak } from './plan.js';

/**
 * From the least to the most, both included; either may be left out.
 *
 * @public
 */
export interface TriggerRange {
  /** [-] The value is at least this. */
  readonly least?: number;
  /** [-] The value is at most this. */
  readonly most?: number;
}

/**
 * When a choice of a {@link DivisionPolicy} is taken: when all that is given holds; always, when nothing is.
 *
 * @public
 */
export interface DivisionTriggers {
  /** Height of the smaller peak over that of the larger, each without the other. */
  readonly heightRatio?: TriggerRange;
  /** Resolution of the two, from their widths at half height. */
  readonly resolution?: TriggerRange;
  /** Height of the valley over that of the lower peak, both above the baseline. */
  readonly valley?: TriggerRange;
  /** Back half over front half of the larger peak at a tenth of its height; above 1 when it tails. */
  readonly asymmetry?: TriggerRange;
  /** On which side of the larger peak the smaller one is. */
  readonly smaller?: 'before' | 'after';
}

/**
 * Which divider when: an ordered list, of which the first choice whose triggers hold is taken; a drop line when none does.
 *
 * @public
 */
export type DivisionPolicy = readonly {
  /** The divider. */
  readonly use: Divider;
  /** When. */
  readonly when: DivisionTriggers;
}[];

/**
 * The policy that errs least for the smaller peak among pairs of known truth: an exponential skim where it stands on the
 * slow flank of a clearly skewed larger peak, or of a less skewed one beyond a deep valley; a drop line everywhere else. A tangent
 * skim and baselines from valley to valley never err least there. It is our own, chosen on Gaussians and exponentially
 * modified Gaussians over a grid of height ratio, resolution and tailing: see the guide on dividers.
 *
 * @public
 */
export const standardDivisionPolicy: DivisionPolicy = [
  { use: 'exponential skim', when: { smaller: 'after', heightRatio: { most: 0.7 }, asymmetry: { least: 1.6 } } },
  {
    use: 'exponential skim',
    when: { smaller: 'after', heightRatio: { most: 0.7 }, asymmetry: { least: 1.3 }, valley: { most: 0.3 } },
  },
  { use: 'exponential skim', when: { smaller: 'before', heightRatio: { most: 0.7 }, asymmetry: { most: 0.625 } } },
  {
    use: 'exponential skim',
    when: { smaller: 'before', heightRatio: { most: 0.7 }, asymmetry: { most: 0.77 }, valley: { most: 0.3 } },
  },
];

const range: Check = (caller, field, value) => {
  const limit = optional((who, name, given) => {
    checkNumber(who, name, given);
  });
  checkFields(caller, { least: limit, most: limit }, value as object, `${field}.`);
};
const use: Check = (caller, field, value) => checkOneOf(caller, field, value, dividers);
const triggers = {
  heightRatio: optional(range),
  resolution: optional(range),
  valley: optional(range),
  asymmetry: optional(range),
  smaller: optional((caller, field, value) => checkOneOf(caller, field, value, ['before', 'after'])),
};

/** Refuses a policy that is not whole. */
export function checkPolicy(caller: string, policy: DivisionPolicy): void {
  const given: unknown = policy;
  if (!Array.isArray(given)) failOption(caller, 'divisionPolicy', 'a list of choices', given);
  policy.forEach((choice, i) => {
    const path = `divisionPolicy[${i}].`;
    const when: Check = (who, field, value) => checkFields(who, triggers, value as object, `${field}.`);
    checkFields(caller, { use, when }, choice, path);
  });
}

/** What the triggers look at. */
export interface DivisionSituation {
  readonly heightRatio: number;
  readonly resolution: number;
  readonly valley: number;
  readonly asymmetry: number;
  readonly smaller: 'before' | 'after';
}

const halfHeightFactor = 1.1774100225154747;

/** The values of a pair that triggers look at. */
export function situationOf({ curves, smaller }: EmgPair, valley: number): DivisionSituation {
  const [a, b] = curves;
  const large = curves[1 - smaller]!;
  const small = curves[smaller];
  const width = ({ sigma, tau }: { sigma: number; tau: number }): number => {
    const { front, back } = emgHalves(tau / sigma, 0.5);
    return sigma * (front + back);
  };
  const tenth = emgHalves(large.tau / large.sigma, 0.1);
  return {
    heightRatio: heightOf(small) / heightOf(large),
    resolution: (halfHeightFactor * (emgMode(b) - emgMode(a))) / (width(a) + width(b)),
    valley,
    asymmetry: tenth.back / tenth.front,
    smaller: smaller === 1 ? 'after' : 'before',
  };
}

const numbers = ['heightRatio', 'resolution', 'valley', 'asymmetry'] as const;
const names: Readonly<Record<(typeof numbers)[number], string>> = {
  heightRatio: 'height ratio',
  resolution: 'resolution',
  valley: 'valley over the lower peak',
  asymmetry: 'asymmetry of the larger peak',
};

/** The first choice whose triggers hold, counted from 0; -1 when none does. */
export function choiceFor(policy: DivisionPolicy, situation: DivisionSituation): number {
  return policy.findIndex(({ when }) => {
    if (when.smaller !== undefined && when.smaller !== situation.smaller) return false;
    return numbers.every((name) => {
      const { least = -Infinity, most = Infinity } = when[name] ?? {};
      return situation[name] >= least && situation[name] <= most;
    });
  });
}

/** Chooses by a policy; every value that was looked at becomes a decision. */
export function choiceBy(trace: Trace, policy: DivisionPolicy): Choose {
  return (larger, smaller, at, base) => {
    const behind = smaller.apex > larger.apex;
    const [left, right] = behind ? [larger, smaller] : [smaller, larger];
    const decision = (text: string, value?: number): Decision => ({
      about: 'divider',
      rule: 'division policy',
      at,
      ...(value !== undefined && { value }),
      text,
    });
    const pair = pairOf(trace, base, { ...left, end: at }, { ...right, start: at });
    if (pair === undefined) {
      return { use: 'drop line', decisions: [decision('The two show no shapes to choose by: a drop line.')] };
    }
    const situation = situationOf(pair, valleyOf(trace, base, left, right, at));
    const i = choiceFor(policy, situation);
    const which =
      i < 0 ? 'no choice of the policy holds: a drop line' : `choice ${i + 1} of the policy: ${policy[i]!.use}`;
    return {
      use: policy[i]?.use ?? 'drop line',
      decisions: [
        decision(`The smaller peak is ${situation.smaller} the larger; ${which}.`),
        ...numbers.map((name) => decision(`${names[name]} ${situation[name].toPrecision(3)}`, situation[name])),
      ],
    };
  };
}

/** [-] Height of the valley over that of the lower peak. */
export function valleyOf(trace: Trace, base: Baseline, left: PlannedPeak, right: PlannedPeak, at: number): number {
  const height = (t: number): number =>
    Math.abs(polylineAt({ time: trace.time, value: trace.signal }, t) - polylineAt(base, t));
  return height(at) / Math.min(height(left.apex), height(right.apex));
}
