import { describe, expect, test } from 'vitest';
import { fitCalibration, predictAmount, type DeterminedPrediction, type Prediction } from '../../../src/index.js';

const areas = [43.1, 81.0, 122.6, 160.9, 201.7];
const points = areas.map((response, i) => ({ concentration: 25, volume: 2 * (i + 1), response }));
const units = { concentrationUnit: 'mg/L', responseUnit: 'mAU s' };
const line = fitCalibration(points, { ...units, component: 'vanillin' });

function determined(prediction: Prediction): DeterminedPrediction {
  if (prediction.outcome === 'not determinable') throw new Error(prediction.reason);
  return prediction;
}

function codes(prediction: Prediction): string[] {
  return prediction.warnings.map(({ code }) => code);
}

describe('from a response to the sample', () => {
  const sample = { solutionVolume: 50, solutionVolumeUnit: 'mL', quantity: 2, unit: 'g' };

  test('amount, concentration, dilution and content follow one from the other', () => {
    const read = determined(predictAmount(line, [130.3, 131.1], { volume: 8, dilution: 10, sample }));
    expect(read.component).toBe('vanillin');
    expect(read.amount).toMatchObject({ of: 'amount', unit: 'ng' });
    expect(read.amount!.value).toBeCloseTo((130.7 - line.intercept.value) / line.slope.value, 11);
    expect(read.concentration).toMatchObject({ of: 'concentration', unit: 'mg/L' });
    expect(read.concentration!.value).toBeCloseTo(read.amount!.value / 8, 12);
    expect(read.undiluted!.value).toBeCloseTo(10 * read.concentration!.value, 12);
    // mg/L x 50 mL = 50 µg for each mg/L, in 2 g
    expect(read.content).toMatchObject({ of: 'content', unit: 'µg/g' });
    expect(read.content!.value).toBeCloseTo(25 * read.undiluted!.value, 9);
    expect(read.result).toEqual(read.content);
    expect(read.result.standardUncertainty / read.result.value).toBeCloseTo(
      read.amount!.standardUncertainty / read.amount!.value,
      14,
    );
    expect(read.result.interval!.from / read.amount!.interval!.from).toBeCloseTo(
      read.result.value / read.amount!.value,
      10,
    );
  });

  test('without preparation it says that it holds the measurement only', () => {
    const read = determined(predictAmount(line, 130, { volume: 8 }));
    expect(read.scope).toBe('measurement only');
    expect(read.budget.map(({ source }) => source)).toEqual(['responses of the sample', 'calibration line']);
    expect(read.budget.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(100, 10);
    expect(read.degreesOfFreedom).toBe(3);
  });

  /*
   * Root of the sum of squares of 0.25, 0.30 and 0.20 %: 0.438748219 %
   * (arithmetic of the Guide to the expression of uncertainty in measurement).
   */
  test('relative uncertainties of the preparation are combined as squares', () => {
    const exact = fitCalibration(
      [1, 2, 3, 4].map((amount) => ({ amount, response: 752 * amount })),
      { amountUnit: 'ng', responseUnit: 'mAU s' },
    );
    const preparation = { purity: 0.25, weighing: 0.3, glassware: 0.2 };
    const read = determined(predictAmount(exact, 1504, { preparation }));
    expect(read.scope).toBe('measurement and preparation');
    expect((100 * read.result.standardUncertainty) / read.result.value).toBeCloseTo(0.438748219, 9);
    expect(read.budget[0]).toMatchObject({ source: 'weighing' });
    expect(read.budget[0]!.share).toBeCloseTo((100 * 0.09) / 0.1925, 8);
    // nothing but parts of infinite degrees of freedom: the normal factor
    expect(read.coverageFactor).toBeCloseTo(1.959964, 6);
  });

  test('effective degrees of freedom follow Welch and Satterthwaite', () => {
    const alone = determined(predictAmount(line, 130, { volume: 8 }));
    const read = determined(predictAmount(line, 130, { volume: 8, preparation: { recovery: 1 } }));
    const u = alone.result.standardUncertainty;
    const combined = Math.hypot(u, 0.01 * alone.result.value);
    expect(read.result.standardUncertainty).toBeCloseTo(combined, 12);
    expect(read.degreesOfFreedom).toBeCloseTo(3 * (combined / u) ** 4, 6);
    expect(read.concentration).toEqual(alone.concentration);
    expect(read.result.interval!.method).toBe('delta');
  });

  test('both intervals are there and the main one can be chosen', () => {
    const fieller = determined(predictAmount(line, 130));
    const delta = determined(predictAmount(line, 130, { interval: 'delta' }));
    expect(fieller.result.interval).toEqual(fieller.result.intervals.Fieller);
    expect(delta.result.interval).toEqual(delta.result.intervals.delta);
    expect(delta.result.intervals).toEqual(fieller.result.intervals);
  });
});

describe('where it lies', () => {
  test.each([
    [200, 'in range', []],
    [230, 'above range', ['prediction-extrapolated']],
    [30, 'below range', ['prediction-extrapolated']],
    [1.5, 'below range', ['prediction-extrapolated']],
  ])('a response of %d is %s', (response, outcome, expected) => {
    const read = predictAmount(line, response);
    expect(read.outcome).toBe(outcome);
    expect(codes(read)).toEqual(expected);
  });

  test('a flat line gives no amount but a reason', () => {
    const flat = fitCalibration(
      [1, 2, 3].map((amount) => ({ amount, response: 7 })),
      { amountUnit: 'ng', responseUnit: 'mAU s' },
    );
    expect(predictAmount(flat, 7)).toMatchObject({
      outcome: 'not determinable',
      reason: expect.stringContaining('slope') as string,
    });
  });

  test('a slope that is not significant gives a value without the limits of Fieller', () => {
    const poor = fitCalibration(
      [1, 2, 3, 4].map((amount, i) => ({ amount, response: [9, 11, 8, 12][i]! })),
      { amountUnit: 'ng', responseUnit: 'mAU s' },
    );
    const read = determined(predictAmount(poor, 10));
    expect(read.result.interval).toBeUndefined();
    expect(read.result.intervals.Fieller).toBeUndefined();
    expect(codes(read)).toEqual(['prediction-no-finite-interval']);
  });

  // F of 95 % with 1 and 3 degrees of freedom is 10.127964 in handbook tables
  test('two replicates are doubted from the tabulated ratio of variances on', () => {
    const limit = line.residualStandardDeviation * Math.sqrt(10.127964);
    const apart = (deviation: number): string[] =>
      codes(predictAmount(line, [130 - deviation / Math.SQRT2, 130 + deviation / Math.SQRT2]));
    expect(apart(0.999 * limit)).toEqual([]);
    expect(apart(1.001 * limit)).toEqual(['prediction-replicates-scatter']);
  });

  test('replicates that scatter more than the line are doubted', () => {
    expect(codes(predictAmount(line, [130, 131]))).toEqual([]);
    const read = predictAmount(line, [120, 140]);
    expect(codes(read)).toEqual(['prediction-replicates-scatter']);
    expect(read.responseStandardDeviation).toBeCloseTo(Math.sqrt(200), 12);
  });
});

describe('an injector that adds 0.3 µL to every volume', () => {
  const added = 0.3;
  const response = (concentration: number, volume: number): number => 0.8 * concentration * (volume + added);
  // a scatter that leaves slope and intercept as they are
  const scatter = [1, -2, 1, 0, 0].map((n, i, all) => 0.2 * (n - (all[4 - i] ?? 0)));
  const fitted = fitCalibration(
    [2, 4, 6, 8, 10].map((volume, i) => ({
      concentration: 25,
      volume,
      response: response(25, volume) + scatter[i]! * 0.1,
    })),
    units,
  );

  test('is taken out by comparing with the standard at the same volume', () => {
    for (const [concentration, volume] of [
      [12, 10],
      [40, 5],
      [25, 3],
    ] as const) {
      const read = determined(
        predictAmount(fitted, response(concentration, volume), { volume, intercept: 'injected volume' }),
      );
      expect(read.concentration!.value).toBeCloseTo(concentration, 1);
      expect(read.amount!.value).toBeCloseTo(read.concentration!.value * volume, 9);
      const other = determined(predictAmount(fitted, response(concentration, volume), { volume }));
      if (concentration !== 25) expect(Math.abs(other.concentration!.value - concentration)).toBeGreaterThan(0.3);
    }
  });

  test('is pointed out when the intercept is taken for a background', () => {
    expect(codes(predictAmount(fitted, response(20, 8), { volume: 8 }))).toEqual(['prediction-intercept-meaning']);
    expect(codes(predictAmount(fitted, response(20, 8), { volume: 8, intercept: 'injected volume' }))).toEqual([]);
  });

  test('is only known within the volumes of the series', () => {
    expect(codes(predictAmount(fitted, response(10, 20), { volume: 20, intercept: 'injected volume' }))).toEqual([
      'prediction-extrapolated',
    ]);
  });
});

describe('what is refused', () => {
  const againstConcentration = fitCalibration(
    [5, 10, 20].map((concentration, i) => ({ concentration, response: [15, 31, 60][i]! })),
    units,
  );

  test.each<[string, () => unknown, string, string]>([
    ['no responses', () => predictAmount(line, []), 'option-invalid', 'one or more numbers'],
    ['a response left away', () => predictAmount(line, undefined as never), 'option-invalid', 'received undefined'],
    ['a response that is no number', () => predictAmount(line, [1, NaN]), 'option-invalid', 'received NaN'],
    ['a volume of 0', () => predictAmount(line, 1, { volume: 0 }), 'option-invalid', 'volume must be a number above 0'],
    [
      'a dilution without a volume',
      () => predictAmount(line, 1, { dilution: 10 }),
      'option-invalid',
      'given with dilution',
    ],
    [
      'a volume for a line against concentration',
      () => predictAmount(againstConcentration, 20, { volume: 5 }),
      'option-invalid',
      'not against concentration',
    ],
    [
      'an injected volume that is not known',
      () => predictAmount(line, 100, { intercept: 'injected volume' }),
      'option-invalid',
      'given with dilution, sample or injected volume',
    ],
    [
      'a negative percentage',
      () => predictAmount(line, 100, { preparation: { purity: -1 } }),
      'option-invalid',
      'preparation.purity',
    ],
    [
      'a part of the preparation that is not known',
      () => predictAmount(line, 100, { preparation: { purrity: 1 } as never }),
      'option-unknown',
      'did you mean purity?',
    ],
    [
      'a mistyped option',
      () => predictAmount(line, 100, { volum: 1 } as never),
      'option-unknown',
      'did you mean volume?',
    ],
    [
      'a sample without a quantity',
      () => predictAmount(line, 100, { volume: 5, sample: { solutionVolume: 1, solutionVolumeUnit: 'mL' } as never }),
      'option-invalid',
      'sample.quantity must be a number above 0',
    ],
    [
      'a sample without a unit of its solution',
      () =>
        predictAmount(line, 100, {
          volume: 5,
          sample: { solutionVolume: 1, solutionVolumeUnit: 'cup', quantity: 1, unit: 'g' },
        }),
      'unit-unknown',
      '"cup" is not known',
    ],
  ])('%s', (_, run, code, message) => {
    expect(run).toThrow(expect.objectContaining({ code }) as Error);
    expect(run).toThrow(message);
  });
});

test('a calibration that went through JSON reads the same', () => {
  const stored = JSON.parse(JSON.stringify(line)) as typeof line;
  expect(predictAmount(stored, Float32Array.of(130), { volume: 8 })).toEqual(predictAmount(line, 130, { volume: 8 }));
});
