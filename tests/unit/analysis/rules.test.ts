import { describe, expect, test } from 'vitest';
import { analyse, areaBetween, defineMethod, pinMethod, simulateTrace, type Rule } from '../../../src/index.js';
import { baselineAt } from '../../../src/baseline/index.js';
import { notFinite } from '../../support/finite.js';

/** An invented run: solvent at 0.8, a pair that touches at 4.0 and 4.3, a lone one at 6, a small one at 8, a dip at 9. */
const shape = { shape: 'gaussian', sigma: 0.07 } as const;
const { trace } = simulateTrace({
  duration: 12,
  interval: 0.2,
  baseline: { offset: 3, drift: 6 },
  peaks: [
    { ...shape, retentionTime: 0.8, height: 60 },
    { ...shape, retentionTime: 4, height: 80 },
    { ...shape, retentionTime: 4.3, height: 40 },
    { ...shape, retentionTime: 6, height: 100 },
    { ...shape, retentionTime: 8, height: 1.5 },
    { ...shape, retentionTime: 9, height: -6 },
  ],
  noise: { white: 0.02 },
  seed: 5,
});
// Without fits, which leave alone what rules speak of, every other peak keeps its bits.
const divider = 'drop line';
const plain = analyse(trace, { divider });
const under = (...rules: Rule[]) => analyse(trace, { rules, divider });
const times = ({ peaks }: { readonly peaks: readonly { readonly retentionTime: number }[] }) =>
  peaks.map((p) => Math.round(10 * p.retentionTime) / 10);
const at = (analysis: ReturnType<typeof analyse>, t: number) =>
  analysis.peaks.find((p) => Math.abs(p.retentionTime - t) < 0.1)!;
const texts = (peak: { readonly decisions: readonly { readonly text: string }[] }) =>
  peak.decisions.map(({ text }) => text).join(' ');
/** True area of a Gaussian of this height [mAU s]. */
const areaOf = (height: number) => 60 * height * 0.07 * Math.sqrt(2 * Math.PI);

test('the run without rules holds the six peaks these tests speak of', () => {
  expect(times(plain)).toStrictEqual([0.8, 4, 4.3, 6, 8, 9]);
  expect(plain).not.toHaveProperty('hidden');
  expect(plain.plan).not.toHaveProperty('hidden');
});

test('an empty list of rules gives the bits of no rules', () => {
  expect(under()).toStrictEqual(plain);
});

describe('no peaks within', () => {
  const rule: Rule = { kind: 'no peaks within', from: 0, to: 1.5, reason: 'solvent front' };

  test('hides the peak, reports its area, and leaves every other one as it was', () => {
    const run = under(rule);
    expect(times(run)).toStrictEqual([4, 4.3, 6, 8, 9]);
    expect(run.hidden).toHaveLength(1);
    const [hidden] = run.hidden!;
    expect(hidden).toMatchObject({ rule: 1, reason: 'solvent front', area: at(plain, 0.8).area });
    expect(hidden!.area / areaOf(60)).toBeCloseTo(1, 2);
    expect(texts(hidden!.peaks[0]!)).toContain('Hidden by rule 1 (no peaks within 0 to 1.5 min): solvent front.');
    expect(at(run, 6)).toStrictEqual({ ...at(plain, 6), areaPercent: at(run, 6).areaPercent });
    expect(run.peaks.reduce((sum, p) => sum + p.areaPercent!, 0)).toBeCloseTo(100, 9);
    expect(notFinite({ ...run, trace: undefined })).toStrictEqual([]);
  });

  test('cuts a peak that reaches into it at its edge, and reports the part it loses', () => {
    const run = under({ ...rule, from: 6.05, to: 7 });
    const [cut, whole] = [at(run, 6), at(plain, 6)];
    expect(cut).toMatchObject({ end: 6.05, endKind: 'by rule', start: whole.start });
    expect(texts(cut)).toContain('Cut by rule 1 (no peaks within 6.05 to 7 min): solvent front.');
    expect(cut.warnings.map(({ code }) => code)).toContain('peak-cut-by-rule');
    expect(cut.area + run.hidden![0]!.area).toBeCloseTo(whole.area, 6);
    expect(run.hidden![0]!.peaks[0]).toMatchObject({ start: 6.05, end: whole.end });
    const before = under({ ...rule, from: 5, to: 5.95 });
    expect(at(before, 6)).toMatchObject({ start: 5.95, startKind: 'by rule', end: whole.end });
    expect(at(before, 6).area + before.hidden![0]!.area).toBeCloseTo(whole.area, 6);
  });

  test('leaves the divider to the hidden neighbour where it was', () => {
    const run = under({ ...rule, from: 4.2, to: 4.5 });
    expect(at(run, 4).end).toBe(4.2 < at(plain, 4).end ? 4.2 : at(plain, 4).end);
    const beyond = under({ ...rule, from: 4.25, to: 4.5 });
    expect(at(beyond, 4)).toMatchObject({ end: at(plain, 4).end, area: at(plain, 4).area });
    expect(beyond.hidden![0]!.area).toBe(at(plain, 4.3).area);
  });

  test('says when there was nothing to hide', () => {
    const run = under({ ...rule, from: 10.5, to: 11.5 });
    expect(run).not.toHaveProperty('hidden');
    expect(run.warnings.find(({ code }) => code === 'rule-without-effect')!.message).toContain(
      'rule 1 (no peaks within 10.5 to 11.5 min)',
    );
  });
});

describe('integrate only within', () => {
  test('hides what lies outside', () => {
    const run = under({ kind: 'integrate only within', from: 3, to: 7, reason: 'validated stretch' });
    expect(times(run)).toStrictEqual([4, 4.3, 6]);
    expect(run.hidden!.map(({ rule, peaks }) => [rule, times({ peaks })])).toStrictEqual([[1, [0.8, 8, 9]]]);
    const sum = at(plain, 0.8).area + at(plain, 8).area + at(plain, 9).area;
    expect(run.hidden![0]!.area).toBeCloseTo(sum, 9);
  });

  test('twice, keeps what lies in either stretch', () => {
    const run = under(
      { kind: 'integrate only within', from: 5, to: 7, reason: 'a' },
      { kind: 'integrate only within', from: 3, to: 4.2, reason: 'b' },
    );
    expect(times(run)).toStrictEqual([4, 6]);
    expect(run.warnings.map(({ code }) => code)).not.toContain('rule-without-effect');
  });
});

describe('downward peaks expected', () => {
  const dip = simulateTrace({
    duration: 10,
    interval: 0.2,
    baseline: { offset: 3 },
    peaks: [
      { ...shape, retentionTime: 1, height: -10 },
      ...[3, 5, 7].map((retentionTime) => ({ ...shape, retentionTime, height: 40 })),
    ],
    noise: { white: 0.02 },
    seed: 2,
  }).trace;

  test('takes as a peak the dip that would be an early disturbance', () => {
    expect(analyse(dip).disturbances.map(({ kind }) => kind)).toStrictEqual(['early disturbance']);
    const run = analyse(dip, { rules: [{ kind: 'downward peaks expected', from: 0.5, to: 1.5 }] });
    expect(run.disturbances).toStrictEqual([]);
    expect(times(run)).toStrictEqual([1, 3, 5, 7]);
    expect(run.peaks[0]!.direction).toBe('down');
    expect(run.peaks[0]!.area / areaOf(-10)).toBeCloseTo(1, 2);
    expect(texts(run.peaks[0]!)).toContain('A dip is a peak here by rule 1');
  });

  test('takes as a peak the dip between two peaks that would be ground', () => {
    const between = simulateTrace({
      duration: 10,
      interval: 0.2,
      baseline: { offset: 3 },
      peaks: [
        ...[2, 7, 8.5].map((retentionTime) => ({ ...shape, retentionTime, height: 40 })),
        { ...shape, retentionTime: 4, height: 60 },
        { ...shape, retentionTime: 4.3, height: -7 },
      ],
      noise: { white: 0.02 },
      seed: 2,
    }).trace;
    expect(times(analyse(between))).not.toContain(4.3);
    const run = analyse(between, { rules: [{ kind: 'downward peaks expected', from: 4.2, to: 4.6 }] });
    expect(times(run)).toContain(4.3);
  });
});

describe('split at', () => {
  test('a single place divides there exactly, and the parts add up', () => {
    const run = under({ kind: 'split at', from: 6.1, to: 6.1 });
    const parts = run.peaks.filter((p) => p.retentionTime > 5.5 && p.retentionTime < 6.5);
    expect(parts.map(({ endKind, startKind }) => [startKind, endKind])).toStrictEqual([
      ['baseline', 'drop line'],
      ['drop line', 'baseline'],
    ]);
    expect(parts[0]!.end).toBe(6.1);
    expect(parts[1]!.start).toBe(6.1);
    expect(parts[0]!.id).toBe(at(plain, 6).id);
    expect(parts[1]!.id).not.toBe(parts[0]!.id);
    expect(parts[0]!.area + parts[1]!.area).toBeCloseTo(at(plain, 6).area, 8);
    expect(texts(parts[0]!)).toContain('Split by rule 1 (split at 6.1 min).');
    expect(texts(parts[1]!)).toContain('Made by rule 1 (split at 6.1 min) out of the peak at 6.0');
    expect(run.regions.find(({ peaks }) => peaks.length === 2 && peaks.includes(parts[1]!.id))!.area).toBeCloseTo(
      at(plain, 6).area,
      8,
    );
    expect(notFinite({ ...run, trace: undefined })).toStrictEqual([]);
  });

  test('where no peak is does nothing and says so', () => {
    const run = under({ kind: 'split at', from: 11, to: 11 });
    expect(run.peaks).toStrictEqual(plain.peaks);
    expect(run.warnings.map(({ code }) => code)).toContain('rule-without-effect');
  });
});

describe('keep together', () => {
  test('makes one peak of a pair, from the start of the first to the end of the last', () => {
    const run = under({ kind: 'keep together', from: 3.9, to: 4.5 });
    expect(times(run)).toStrictEqual([0.8, 4, 6, 8, 9]);
    const [first, second] = [at(plain, 4), at(plain, 4.3)];
    const one = at(run, 4);
    expect(one).toMatchObject({ id: first.id, start: first.start, end: second.end });
    expect(one.area).toBeCloseTo(first.area + second.area, 8);
    expect(texts(one)).toContain('by rule 1 (keep together 3.9 to 4.5 min)');
  });

  test('takes in what lies between peaks that do not touch', () => {
    const run = under({ kind: 'keep together', from: 5.9, to: 8.1 });
    const one = at(run, 6);
    expect(one).toMatchObject({ start: at(plain, 6).start, end: at(plain, 8).end });
    expect(one.area).toBeCloseTo(areaBetween(trace, run.baseline, one.start, one.end), 9);
  });

  test('of a single peak does nothing and says so', () => {
    expect(under({ kind: 'keep together', from: 5.9, to: 6.1 }).warnings.map(({ code }) => code)).toContain(
      'rule-without-effect',
    );
  });
});

describe('rules about the baseline', () => {
  test('fix it at the stated level over the stretch and nowhere else', () => {
    const run = under({ kind: 'fix the baseline level', from: 5.4, to: 6.6, level: 7 });
    for (const t of [5.4, 6, 6.6]) expect(baselineAt(run.baseline, t)).toBe(7);
    for (const t of [0, 3, 5.39, 6.61, 11])
      expect(baselineAt(run.baseline, t)).toBeCloseTo(baselineAt(plain.baseline, t), 12);
    const peak = at(run, 6);
    const lost = areaBetween(trace, plain.baseline, peak.start, peak.end) - peak.area;
    const { start, end } = peak;
    expect(lost).toBeCloseTo(60 * (end - start) * (7 - baselineAt(plain.baseline, (start + end) / 2)), 1);
    expect(texts(peak)).toContain('The baseline is level by rule 1');
    expect(at(run, 4)).toMatchObject({ area: at(plain, 4).area });
  });

  test('fix it at its own level at the start of the stretch when none is stated', () => {
    const run = under({ kind: 'fix the baseline level', from: 5, to: 7 });
    expect(baselineAt(run.baseline, 7)).toBe(baselineAt(plain.baseline, 5));
  });

  test('bend it to a point, by less towards both ends of the stretch', () => {
    const run = under({ kind: 'baseline must pass through', from: 5, to: 7, at: 6, level: 10 });
    const own = (t: number) => baselineAt(plain.baseline, t);
    expect(baselineAt(run.baseline, 6)).toBeCloseTo(10, 12);
    expect(baselineAt(run.baseline, 5.5)).toBeCloseTo(own(5.5) + (10 - own(6)) / 2, 9);
    for (const t of [1, 5, 7, 9]) expect(baselineAt(run.baseline, t)).toBeCloseTo(own(t), 12);
    expect(run.baseline.uncertainty).toHaveLength(run.baseline.time.length);
    expect(texts(at(run, 6))).toContain('bent to 6 min by rule 1');
  });

  test('bend it to the signal itself when no level is stated', () => {
    const run = under({ kind: 'baseline must pass through', from: 10, to: 11, at: 10.5 });
    // 3 + 10.5 / 10; a mean of 15 readings of noise 0.02.
    expect(Math.abs(baselineAt(run.baseline, 10.5) - 4.05)).toBeLessThan(0.03);
    const off = under({ kind: 'baseline must pass through', from: 5, to: 7, at: 6 });
    expect(baselineAt(off.baseline, 6)).toBeGreaterThan(80);
  });
});

describe('divide by', () => {
  test('valley to valley changes the pair it covers and nothing else', () => {
    const run = under({ kind: 'divide by', from: 4.1, to: 4.2, divider: 'valley to valley' });
    const everywhere = analyse(trace, { divider: 'valley to valley' });
    for (const t of [4, 4.3]) {
      const { decisions, ...rest } = at(run, t);
      const { decisions: others, ...expected } = at(everywhere, t);
      expect(rest).toStrictEqual(expected);
      expect(decisions).toHaveLength(others.length);
      expect(texts(at(run, t))).toContain('from valley to valley by rule 1');
    }
    expect(at(run, 6)).toMatchObject({ area: at(plain, 6).area });
  });

  test('drop line takes a pair back from valley to valley', () => {
    const rule: Rule = { kind: 'divide by', from: 4, to: 4.3, divider: 'drop line' };
    const run = analyse(trace, { divider: 'valley to valley', rules: [rule] });
    expect(at(run, 4)).toMatchObject({ area: at(plain, 4).area, baseline: 'run', endKind: 'drop line' });
    expect(run.plan.baselines).toHaveLength(1);
  });
});

describe('the least of a peak', () => {
  test.each<[Rule['kind'], number, number[]]>([
    ['least height', 5, [0.8, 4, 4.3, 6, 9]],
    ['least area', areaOf(2), [0.8, 4, 4.3, 6, 9]],
    ['least signal-to-noise', 50, [0.8, 4, 4.3, 6, 9]],
    ['least height', 1, [0.8, 4, 4.3, 6, 8, 9]],
  ])('%s of %d keeps the peaks that have it and rejects the others', (kind, least, expected) => {
    const run = under({ kind, from: 0, to: 12, least } as Rule);
    expect(times(run)).toStrictEqual(expected);
    const rejected = run.rejected.filter(({ test: name }) => name === kind);
    expect(rejected).toHaveLength(6 - expected.length);
    for (const each of rejected) {
      expect(each.value).toBeLessThan(each.limit);
      expect(each.limit).toBe(least);
      expect(each.text).toContain(`of rule 1 (${kind} 0 to 12 min); its area was`);
    }
    expect(run.peaks.reduce((sum, p) => sum + p.areaPercent!, 0)).toBeCloseTo(100, 9);
  });

  test('holds in its stretch only, and leaves the neighbours their limits', () => {
    expect(times(under({ kind: 'least height', from: 8.5, to: 12, least: 7 }))).toStrictEqual([0.8, 4, 4.3, 6, 8]);
    const run = under({ kind: 'least height', from: 4.2, to: 5, least: 60 });
    expect(times(run)).toStrictEqual([0.8, 4, 6, 8, 9]);
    expect(at(run, 4)).toMatchObject({ end: at(plain, 4).end, area: at(plain, 4).area });
    expect(run.regions.map(({ peaks }) => peaks.length)).toStrictEqual([1, 1, 1, 1, 1]);
  });
});

describe('expected width', () => {
  test('rejects what is far narrower or broader, with the ratio', () => {
    const broad = under({ kind: 'expected width', from: 5, to: 7, sigma: 0.3 });
    expect(times(broad)).not.toContain(6);
    const failed = broad.rejected.find(({ test: name }) => name === 'expected width')!;
    expect(Math.abs(failed.at - 6)).toBeLessThan(0.1);
    expect(failed.value).toBeLessThan(0.3);
    const narrow = under({ kind: 'expected width', from: 5, to: 7, sigma: 0.02 });
    expect(times(narrow)).not.toContain(6);
  });

  test('leaves a peak of that width its bits, and says so', () => {
    const run = under({ kind: 'expected width', from: 5, to: 7, sigma: 0.07 });
    expect(at(run, 6)).toMatchObject({ area: at(plain, 6).area, height: at(plain, 6).height });
    expect(texts(at(run, 6))).toContain('As wide as rule 1');
  });

  test('sees one broad peak where narrow ripple on it would be many', () => {
    const rippled = simulateTrace({
      duration: 20,
      interval: 0.2,
      peaks: [
        { shape: 'gaussian', retentionTime: 10, height: 50, sigma: 0.8 },
        ...[9.4, 9.9, 10.3, 10.7].map((retentionTime) => ({
          shape: 'gaussian' as const,
          retentionTime,
          height: 4,
          sigma: 0.04,
        })),
      ],
      noise: { white: 0.02 },
      seed: 3,
    }).trace;
    expect(analyse(rippled).peaks.length).toBeGreaterThan(2);
    const run = analyse(rippled, { rules: [{ kind: 'expected width', from: 6, to: 14, sigma: 0.8 }] });
    expect(run.peaks).toHaveLength(1);
    const area = 60 * Math.sqrt(2 * Math.PI) * (50 * 0.8 + 4 * 4 * 0.04);
    expect(Math.abs(run.peaks[0]!.area / area - 1)).toBeLessThan(0.02);
  });
});

test('pinMethod keeps the rules, and the pinned method gives the same bits', () => {
  const rules: Rule[] = [
    { kind: 'no peaks within', from: 0, to: 1.5, reason: 'solvent front' },
    { kind: 'keep together', from: 3.9, to: 4.5 },
    { kind: 'least height', from: 0, to: 12, least: 5 },
  ];
  const run = analyse(trace, { rules });
  const pinned = pinMethod(run);
  expect(pinned.rules).toStrictEqual(rules);
  expect(JSON.parse(JSON.stringify(defineMethod({ rules })))).toStrictEqual(defineMethod({ rules }));
  const again = analyse(trace, pinned);
  expect(again.peaks).toStrictEqual(run.peaks);
  expect(again.hidden).toStrictEqual(run.hidden);
});

test('rules are obeyed in order: a part that was split off can be hidden, one that is hidden cannot be split', () => {
  const split: Rule = { kind: 'split at', from: 6.1, to: 6.1 };
  const hide: Rule = { kind: 'no peaks within', from: 6.1, to: 7, reason: 'tail of another' };
  const first = under(split, hide);
  expect(first.hidden![0]!.peaks[0]!.start).toBe(6.1);
  expect(at(first, 6)).toMatchObject({ end: 6.1, endKind: 'drop line' });
});
