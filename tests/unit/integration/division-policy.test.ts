import { describe, expect, test } from 'vitest';
import { integrate, planIntegration, standardDivisionPolicy, type DivisionPolicy } from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';
import { straight } from '../../support/plans.js';
import { traceAt } from '../../support/traces.js';
import { candidate } from '../../support/plans.js';
import { emgPair, gaussianPair, type Pair } from '../../reference/integration/overlap.js';

function planned({ shape, apexes, heights, from, to }: Pair, divisionPolicy?: DivisionPolicy) {
  const count = Math.round((to - from) * 40) + 1;
  const time = Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
  const trace = traceAt(time, (i) => shape(time[i]!));
  const candidates = [
    candidate(apexes[0], 1, { height: heights[0], from, to: apexes[1], toKind: 'neighbour' }),
    candidate(apexes[1], 1, { height: heights[1], from: apexes[0], to, fromKind: 'neighbour' }),
  ];
  const plan = planIntegration(trace, candidates, straight(from, to), {
    divider: 'policy',
    ...(divisionPolicy && { divisionPolicy }),
  });
  return { plan, peaks: integrate(trace, plan).peaks };
}
const skimmed = (pair: Pair, policy?: DivisionPolicy): boolean =>
  planned(pair, policy).peaks.some(({ startKind }) => startKind === 'skim');

describe('the standard policy', () => {
  test('divides Gaussians by a drop line, whatever their sizes', () => {
    for (const ratio of [1, 0.2, 0.05]) expect(skimmed(gaussianPair(ratio, 1.25))).toBe(false);
  });

  test('skims exponentially what stands on a clear tail, and nothing that stands in front of it', () => {
    expect(skimmed(emgPair(2, 10, 1, 0.1))).toBe(true);
    expect(skimmed(emgPair(2, 10, 0.1, 1))).toBe(false);
  });

  test('leaves peaks of about the same size to a drop line', () => {
    expect(skimmed(emgPair(2, 8, 1, 1))).toBe(false);
  });
});

describe('a policy', () => {
  const pair = emgPair(1, 8, 1, 0.1);

  test('takes the first choice that holds, and a drop line when none does', () => {
    const when = { heightRatio: { most: 0.2 }, smaller: 'after' } as const;
    const kindOf = (policy: DivisionPolicy) => planned(pair, policy).plan.baselines.at(-1)!.kind;
    expect(
      kindOf([
        { use: 'tangent skim', when },
        { use: 'exponential skim', when: {} },
      ]),
    ).toBe('tangent skim');
    expect(
      kindOf([
        { use: 'tangent skim', when: { smaller: 'before' } },
        { use: 'valley to valley', when: {} },
      ]),
    ).toBe('valley to valley');
    expect(kindOf([{ use: 'tangent skim', when: { heightRatio: { most: 0.05 } } }])).toBe('straight');
    expect(kindOf([])).toBe('straight');
  });

  test('records every value that was looked at', () => {
    const { plan } = planned(pair);
    for (const peak of plan.regions[0]!.peaks) {
      const seen = peak.decisions.filter(({ rule }) => rule === 'division policy');
      expect(seen[0]!.text).toMatch(/^The smaller peak is after the larger; (choice \d of the policy: |no choice)/);
      const value = (name: string) => seen.find(({ text }) => text.startsWith(name))!.value!;
      // The pair as it was made: sizes 1 and 0.1 of one shape; tau = sigma has B/A 1.362180 at 10 % and W0.5 of 2.89089038 sigma.
      expect(Math.abs(value('height ratio') / 0.1 - 1)).toBeLessThan(0.01);
      expect(Math.abs(value('asymmetry of the larger peak') / 1.36218 - 1)).toBeLessThan(0.01);
      expect(Math.abs(value('resolution') / ((1.1774100225 * 8) / (2 * 2.89089038)) - 1)).toBeLessThan(0.01);
      // Peak to valley 5.511362 (computed from the closed form).
      expect(Math.abs(value('valley over the lower peak') * 5.511362 - 1)).toBeLessThan(0.01);
    }
  });

  test.each([
    ['no list', 'drop line', 'divisionPolicy'],
    ['an unknown divider', [{ use: 'guess', when: {} }], 'divisionPolicy[0].use'],
    ['an unknown trigger', [{ use: 'drop line', when: { height: { most: 1 } } }], 'divisionPolicy[0].when.height'],
    [
      'an unknown limit',
      [{ use: 'drop line', when: { valley: { maximum: 1 } } }],
      'divisionPolicy[0].when.valley.maximum',
    ],
    [
      'a limit that is no number',
      [{ use: 'drop line', when: { valley: { most: 'much' } } }],
      'divisionPolicy[0].when.valley.most',
    ],
    ['a side that is none', [{ use: 'drop line', when: { smaller: 'beside' } }], 'divisionPolicy[0].when.smaller'],
  ])('with %s is refused, naming the place', (_, policy, field) => {
    const error = thrownBy(() => planned(pair, policy as unknown as DivisionPolicy));
    expect(error.details['field']).toBe(field);
  });

  test('is plain JSON', () => {
    expect(JSON.parse(JSON.stringify(standardDivisionPolicy))).toEqual(standardDivisionPolicy);
  });
});
