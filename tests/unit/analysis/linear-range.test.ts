import { describe, expect, test } from 'vitest';
import {
  analyse,
  collectPoints,
  collectResponses,
  fitCalibration,
  predictAmount,
  simulateTrace,
  type Analysis,
  type Method,
} from '../../../src/index.js';
import { thrownBy } from '../../support/contracts.js';
import { withSignal } from '../../support/runs.js';

const components = [{ name: 'vanillin', retentionTime: 6.5, window: 0.2 }];

/** A run with a peak as high as the amount times 100 above a level of 5, cut off at `ceiling`. */
function run(amount: number, method: Partial<Method> = {}, ceiling = Infinity): Analysis {
  const { trace } = simulateTrace({
    duration: 10,
    interval: 0.4,
    baseline: { offset: 5 },
    noise: { white: 0.05 },
    peaks: [{ shape: 'gaussian', retentionTime: 6.5, height: 100 * amount, sigma: 0.06 }],
    seed: amount,
  });
  return analyse(
    withSignal(trace, (y) => Math.min(y, ceiling)),
    { components, ...method },
  );
}
const codes = ({ peaks }: Analysis): string[] => peaks[0]!.warnings.map(({ code }) => code);
const standards = (method: Partial<Method>, ceiling?: number) =>
  [1, 2, 4, 8, 16].map((amount) => ({ analysis: run(amount, method, ceiling), amount }));
const units = { amountUnit: 'ng', responseUnit: 'mAU s' };

describe('A peak beyond the stated linear range', () => {
  test('is warned about, with what it reaches and by how much; the raw signal counts, its level too', () => {
    const analysis = run(16, { linearUpTo: 1500 });
    const warning = analysis.peaks[0]!.warnings.find(({ code }) => code === 'peak-beyond-linear-range')!;
    expect(warning.message).toMatch(/reaches 160\d mAU, 10\d\.\d mAU beyond/);
    expect(warning.message).toContain('lower bounds');
    expect(codes(run(16, { linearUpTo: 1602 }))).toContain('peak-beyond-linear-range');
    expect(codes(run(16, { linearUpTo: 1610 }))).toStrictEqual([]);
    expect(codes(run(16))).toStrictEqual([]);
  });

  test('keeps its area: the statement changes no number', () => {
    const [stated, unstated] = [run(16, { linearUpTo: 1500 }), run(16)];
    expect(stated.peaks.map(({ warnings, ...rest }) => [rest, warnings.length])[0]![0]).toStrictEqual(
      unstated.peaks.map(({ warnings, ...rest }) => [rest, warnings.length])[0]![0],
    );
  });

  test('is not one for a spike that is bridged', () => {
    const spiky = withSignal(run(8).trace, (y, i) => y + (i === 990 ? 5000 : 0));
    const { peaks, disturbances } = analyse(spiky, { linearUpTo: 1000 });
    expect(disturbances.map(({ kind }) => kind)).toContain('spike');
    expect(peaks[0]!.warnings.map(({ code }) => code)).not.toContain('peak-beyond-linear-range');
  });

  test('is kept from the calibration with the reason, and stays beside the line', () => {
    const { points, responseUnit, warnings } = collectPoints('vanillin', standards({ linearUpTo: 1000 }));
    expect(points.map(({ excluded }) => excluded === undefined)).toStrictEqual([true, true, true, true, false]);
    expect(points[4]!.excluded!.reason).toMatch(/beyond the linear range/);
    expect(warnings.map(({ code }) => code)).toStrictEqual(['collect-peak-left-out']);
    const line = fitCalibration(points, { amountUnit: 'ng', responseUnit });
    expect(line.points).toHaveLength(4);
    expect(line.excluded[0]!.reason).toMatch(/beyond the linear range/);
  });

  test('makes an amount that is read from it a lower bound, and the prediction says why', () => {
    const line = fitCalibration(collectPoints('vanillin', standards({ linearUpTo: 2000 })).points, units);
    const runs = [run(3, { linearUpTo: 1000 }), run(15, { linearUpTo: 1000 })];
    const { responses, lowerBounds, warnings } = collectResponses('vanillin', runs);
    expect(responses).toStrictEqual(runs.map(({ peaks }) => peaks[0]!.area));
    expect(warnings).toStrictEqual([]);
    expect(lowerBounds).toHaveLength(1);
    expect(lowerBounds[0]).toMatch(/^run 2: the signal reaches 150\d mAU, 50\d\.\d mAU beyond the linear range$/);
    const prediction = predictAmount(line, responses[1]!, { lowerBounds });
    const warning = prediction.warnings.find(({ code }) => code === 'prediction-lower-bound')!;
    expect(warning.message).toContain(lowerBounds[0]);
    expect(predictAmount(line, responses[0]!).warnings).toStrictEqual([]);
  });
});

describe('A saturated peak', () => {
  const ceiling = 1000;

  test('says that its area is a lower bound, and it is one', () => {
    const clipped = run(16, {}, ceiling);
    const warning = clipped.peaks[0]!.warnings.find(({ code }) => code === 'peak-flat-top')!;
    expect(warning.message).toContain('lower bounds');
    expect(clipped.peaks[0]!.area).toBeLessThan(run(16).peaks[0]!.area);
  });

  test('is kept from the calibration, and so is one that the record cuts off', () => {
    const { points } = collectPoints('vanillin', standards({}, ceiling));
    expect(points[4]!.excluded).toStrictEqual({ reason: 'the detector was saturated' });
    expect(points.filter(({ excluded }) => excluded).length).toBe(1);
  });

  test('makes an amount that is read from it a lower bound', () => {
    const { lowerBounds } = collectResponses('vanillin', [run(12, {}, ceiling)]);
    expect(lowerBounds).toStrictEqual(['run 1: the detector was saturated']);
  });
});

describe('collectResponses', () => {
  test('leaves out a run without the peak, with a warning, and refuses none and mixed units', () => {
    const nameless = run(3, { components: [] });
    const { responses, warnings } = collectResponses('vanillin', [run(3), nameless]);
    expect(responses).toHaveLength(1);
    expect(warnings).toStrictEqual([
      { code: 'collect-peak-missing', message: 'vanillin in run 2: no peak, so no response.' },
    ]);
    expect(thrownBy(() => collectResponses('vanillin', []))).toMatchObject({ code: 'option-invalid' });
    const other = { ...run(3), units: { ...run(3).units, area: 'AU s' } };
    expect(thrownBy(() => collectResponses('vanillin', [run(3), other])).details).toMatchObject({
      field: 'analyses[1]',
    });
  });

  test.each(['saturated', [3], null])('predictAmount refuses %j for reasons', (lowerBounds) => {
    const line = fitCalibration(collectPoints('vanillin', standards({})).points, units);
    const error = thrownBy(() => predictAmount(line, 100, { lowerBounds: lowerBounds as unknown as string[] }));
    expect(error.code).toBe('option-invalid');
    expect(error.message).toContain('lowerBounds');
  });
});
