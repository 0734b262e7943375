import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { allFamilies, groups, makeAnyRun as makeRun } from '../../bench/accuracy/all-families.js';
import { gaussian, logNormal, modifiedGaussian, splitGaussian } from '../../bench/accuracy/peak-shapes.js';
import { areaFloor } from '../../bench/accuracy/floor.js';
import { countNonFinite, scoreRun, type Analyser, type FoundPeak } from '../../bench/accuracy/score.js';
import { errorsByClass, intervals, measureErrors, shareSplit, summarise } from '../../bench/accuracy/summary.js';
import { repeatableNumbers } from '../support/traces.js';

/** Answers with the truth itself, all apexes moved by a part of their sigma. */
function knowing(moved: number): (run: ReturnType<typeof makeRun>) => Analyser {
  return (run) => () => ({
    peaks: run.truth.peaks
      .filter((p) => p.visible)
      .map((p): FoundPeak => ({
        retentionTime: p.apex + moved * p.sigma,
        height: p.height,
        area: p.areaInside,
        start: p.start,
        end: p.end,
        direction: p.height > 0 ? 'up' : 'down',
      })),
  });
}

describe('the accuracy bench', () => {
  it('finds the area of each of its shapes as the closed formula gives it', () => {
    // FROM MEMORY: area of a Gaussian and of the two halves of a split one; of the log-normal form of
    // Fraser and Suzuki, Anal. Chem. 41 (1969) 37, h (w/2) sqrt(pi/ln 2) exp(a²/(4 ln 2)).
    const root = Math.sqrt(2 * Math.PI);
    expect(gaussian(0.07).area).toBeCloseTo(0.07 * root, 8);
    expect(splitGaussian(0.04, 0.1).area).toBeCloseTo(0.07 * root, 8);
    const w = 2.3548200450309493 * 0.05;
    const expected = (w / 2) * Math.sqrt(Math.PI / Math.LN2) * Math.exp(0.04 / (4 * Math.LN2));
    expect(logNormal(0.05, 0.2).area / expected).toBeCloseTo(1, 6);
  });

  it('has modified Gaussians of the moments sigma squared plus tau squared and twice tau cubed', () => {
    // Grushka, Anal. Chem. 44 (1972) 1733, from memory: M2 = sigma² + tau², M3 = 2 tau³.
    for (const tau of [0.03, 0.05, 0.1]) {
      const shape = modifiedGaussian(0.05, tau);
      const n = 40000;
      const h = (shape.to - shape.from) / n;
      let m0 = 0;
      let m1 = 0;
      for (let i = 0; i <= n; i++) {
        const x = shape.from + i * h;
        m0 += shape.value(x) * h;
        m1 += x * shape.value(x) * h;
      }
      const mean = m1 / m0;
      let m2 = 0;
      let m3 = 0;
      for (let i = 0; i <= n; i++) {
        const x = shape.from + i * h - mean;
        const y = (shape.value(x + mean) * h) / m0;
        m2 += x * x * y;
        m3 += x * x * x * y;
      }
      expect(m0 / shape.area).toBeCloseTo(1, 6);
      expect(m2 / (0.0025 + tau * tau)).toBeCloseTo(1, 3);
      expect(m3 / (2 * tau ** 3)).toBeCloseTo(1, 2);
    }
  });

  it('has at least thirty families, a third of them with shapes outside the one that is fitted', () => {
    expect(new Set(allFamilies).size).toBe(allFamilies.length);
    expect(allFamilies.length).toBeGreaterThanOrEqual(30);
    expect(groups['outside shapes'].length / allFamilies.length).toBeGreaterThanOrEqual(1 / 3);
    const shapes = groups['outside shapes'].flatMap((family) => [1, 2].flatMap((seed) => makeRun(family, seed).truth.peaks.map((p) => p.shape))); // prettier-ignore
    expect([...new Set(shapes)].sort()).toEqual(
      expect.arrayContaining(['emg-with-slow-tail', 'haarhoff-van-der-linde', 'log-normal', 'polynomial-gaussian', 'split-gaussian']), // prettier-ignore
    );
  });

  it('knows the least error an area can have: that of a least-squares fit to many simulated peaks', () => {
    // A Gaussian of 20 samples a sigma over twenty half widths, white noise; the fit linearised at the truth, which
    // the noise is too small to leave: the normal equations are solved for the change of height and width.
    const random = repeatableNumbers(5);
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const n = 471;
    const u = Array.from({ length: 2 * n + 1 }, (_, i) => (i - n) / 20);
    const columns = u.map((x) => [Math.exp((-x * x) / 2), x * x * Math.exp((-x * x) / 2), 1]);
    const normalMatrix = [0, 1, 2].map((i) => [0, 1, 2].map((j) => columns.reduce((sum, c) => sum + c[i]! * c[j]!, 0)));
    const solve = inverse(new Matrix(normalMatrix));
    let squares = 0;
    const repeats = 600;
    for (let r = 0; r < repeats; r++) {
      const noise = u.map(() => 0.01 * normal());
      const right = [0, 1, 2].map((i) => columns.reduce((sum, c, k) => sum + c[i]! * noise[k]!, 0));
      const [h, s] = [0, 1].map((i) => right.reduce((sum, y, j) => sum + solve.get(i, j) * y, 0));
      squares += (h! + s!) ** 2;
    }
    const floor = areaFloor(1, 1, 0.01 * 0.01 * (1 / 20));
    expect(Math.sqrt(squares / repeats) / floor).toBeGreaterThan(0.9);
    expect(Math.sqrt(squares / repeats) / floor).toBeLessThan(1.1);
  });

  it.each(allFamilies)('makes the same finite run from the same seed: %s', (family) => {
    const run = makeRun(family, 7);
    const again = makeRun(family, 7);
    expect(again.signal).toEqual(run.signal);
    expect(makeRun(family, 8).signal).not.toEqual(run.signal);
    expect(countNonFinite([run.time, run.signal, run.truth.peaks])).toBe(0);
    for (let i = 1; i < run.time.length; i++) expect(run.time[i]! > run.time[i - 1]!).toBe(true);
  });

  it.each(allFamilies)('gives full marks to an answer that is the truth: %s', (family) => {
    for (const moved of [-0.49, 0, 0.49]) {
      const run = makeRun(family, 12);
      const score = scoreRun(run, knowing(moved)(run));
      expect(score.falsePeaks).toHaveLength(0);
      expect(score.judged.filter((j) => j.match === undefined)).toHaveLength(0);
      expect(score.quality).toBeCloseTo(1, 12);
    }
  });

  it('charges half for a false peak, nothing for a small true one, and a factor e for 5 % of area', () => {
    const run = makeRun('near the limit', 3);
    const truth = knowing(0)(run)(run.time, run.signal, run.signalUnit).peaks;
    const judged = run.truth.peaks.filter((p) => p.visible && p.snr >= 10).length;
    const nowhere: FoundPeak = { ...truth[0]!, retentionTime: -100 };
    expect(scoreRun(run, () => ({ peaks: [...truth, nowhere] })).quality).toBeCloseTo(1 - 0.5 / judged, 12);
    const wide = truth.map((p) => ({ ...p, area: p.area * 1.05 }));
    expect(scoreRun(run, () => ({ peaks: wide })).quality).toBeCloseTo(Math.exp(-1), 9);
    const opposite = truth.map((p): FoundPeak => ({ ...p, direction: 'down' }));
    expect(scoreRun(run, () => ({ peaks: opposite })).judged.filter((j) => j.match !== undefined)).toHaveLength(0);
  });

  it('charges a blank down to nothing and an exception wholly', () => {
    const blank = makeRun('blanks', 1);
    const one: FoundPeak = { retentionTime: 1, height: 1, area: 1, start: 0.9, end: 1.1, direction: 'up' };
    expect(scoreRun(blank, () => ({ peaks: [] })).quality).toBe(1);
    expect(scoreRun(blank, () => ({ peaks: [one] })).quality).toBe(0.5);
    expect(scoreRun(blank, () => ({ peaks: [one, one, one] })).quality).toBe(0);
    const broken = scoreRun(makeRun('clean', 1), () => {
      throw new Error('broken');
    });
    expect(broken.quality).toBe(0);
    expect(broken.exception).toContain('broken');
  });

  it('counts the numbers of a result that are not finite, at any depth', () => {
    expect(countNonFinite({ a: [1, NaN, { b: Infinity }], c: new Float64Array([0, -Infinity]), d: 'NaN' })).toBe(3);
  });

  describe('over several runs', () => {
    const runs = (['clean', 'fused', 'hidden', 'weak', 'log-normal'] as const).map((family) => makeRun(family, 2));
    /** The truth, each peak changed: area a share off, uncertainty a share of it, measures as they are. */
    const answer =
      (off: number, uncertainty: number, isThere = (peak: (typeof runs)[0]['truth']['peaks'][0]) => peak.visible) =>
      (run: (typeof runs)[0]) =>
        scoreRun(run, () => ({
          peaks: run.truth.peaks.filter(isThere).map((p): FoundPeak => ({
            retentionTime: p.apex + 0.1 * p.sigma,
            height: p.height * 1.02,
            area: p.areaInside * (1 + off),
            start: p.start,
            end: p.end,
            direction: p.height > 0 ? 'up' : 'down',
            areaUncertainty: Math.abs(p.areaInside) * uncertainty,
            divided: !p.isolated,
            plates: 0.97 * (p.apex / p.sigma) ** 2,
            tailing: (1.04 * (p.end - p.start)) / (2 * (p.apex - p.start)),
          })),
        }));

    it('tells visible, hidden and weak peaks apart', () => {
      expect(summarise(runs.map(answer(0, 1)))).toMatchObject({ recall: 1, recallHidden: 0, recallWeak: 1 });
      expect(summarise(runs.map(answer(0, 1, () => true)))).toMatchObject({
        recall: 1,
        recallHidden: 1,
        recallWeak: 1,
      });
      const strong = summarise(runs.map(answer(0, 1, (p) => p.snr >= 10)));
      expect(strong).toMatchObject({ recall: 1, recallHidden: 1, recallWeak: 0 });
    });

    it('gives the errors that were made', () => {
      const scores = runs.map(answer(-0.03, 0.02));
      for (const { all, isolated } of errorsByClass(scores)) {
        for (const size of [all, isolated]) {
          if (size === undefined) continue;
          expect([size.median, size.rms]).toEqual([3, 3].map((v): unknown => expect.closeTo(v, 9)));
        }
      }
      const { height, retention, plates, tailing } = measureErrors(scores);
      expect([height, retention, plates, tailing]).toEqual([2, 10, 3, 4].map((v): unknown => expect.closeTo(v, 6)));
    });

    it('counts an interval as holding within 1.96 standard uncertainties', () => {
      const of = (off: number) => intervals(runs.map(answer(off, 0.02)));
      expect(of(0.039)).toMatchObject({ present: 1, isolated: { share: 1 }, divided: { share: 1 } });
      expect(of(0.0395)).toMatchObject({ isolated: { share: 0 }, divided: { share: 0 } });
      expect(intervals(runs.map((run) => scoreRun(run, knowing(0)(run))))).toEqual({ present: 0 });
    });

    it('sees a split peak, a peak on a disturbance and a peak called a disturbance', () => {
      const run = makeRun('log-normal', 2);
      const truth = knowing(0)(run)(run.time, run.signal, run.signalUnit).peaks;
      const single = run.truth.peaks.find((p) => p.isolated && p.snr >= 10)!;
      const beside: FoundPeak = { ...truth[0]!, retentionTime: single.apex + 1.5 * single.sigma };
      const whole = shareSplit([scoreRun(run, () => ({ peaks: truth }))])!;
      const split = shareSplit([scoreRun(run, () => ({ peaks: [...truth, beside] }))])!;
      expect([whole.share, split.share * split.count]).toEqual([0, 1]);

      const swing = makeRun('outside void', 2);
      const { at, from, to } = swing.truth.disturbances[0]!;
      const onIt: FoundPeak = { retentionTime: at, height: 1, area: 1, start: from, end: to, direction: 'up' };
      const elsewhere: FoundPeak = { ...onIt, retentionTime: -100 };
      const seen = scoreRun(swing, () => ({ peaks: [onIt, elsewhere] }));
      expect([seen.falsePeaks.length, seen.onDisturbances]).toEqual([2, [onIt]]);

      const disturbances = [{ kind: 'bubble', start: single.start, end: single.end }];
      expect(scoreRun(run, () => ({ peaks: [], disturbances })).takenForDisturbance).toBe(1);
      expect(scoreRun(run, () => ({ peaks: truth, disturbances })).takenForDisturbance).toBe(0);
    });
  });
});
