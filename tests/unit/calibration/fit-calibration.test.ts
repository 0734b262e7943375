import { describe, expect, test } from 'vitest';
import { fitCalibration, type CalibrationPoint } from '../../../src/index.js';

/** One invented vanillin standard of 25 mg/L at five volumes. */
const areas = [43.1, 81.0, 122.6, 160.9, 201.7];
const series: readonly CalibrationPoint[] = areas.map((response, i) => ({
  concentration: 25,
  volume: 2 * (i + 1),
  response,
  injection: `run ${i + 1}`,
}));
const units = { concentrationUnit: 'mg/L', responseUnit: 'mAU s' };

describe('amounts and units', () => {
  test('the amount injected is concentration times volume: 25.00 µg/mL x 10.0 µL = 250 ng', () => {
    const points = [5, 10, 20].map((volume) => ({ concentration: 25, volume, response: volume * 30 + (volume % 3) }));
    const line = fitCalibration(points, { concentrationUnit: 'µg/mL', responseUnit: 'mAU s' });
    expect(line.points[1]!.amount).toBe(250);
    expect(line.units).toEqual({
      amount: 'ng',
      response: 'mAU s',
      slope: 'mAU s/ng',
      concentration: 'µg/mL',
      volume: 'µL',
    });
    expect(line.quantity).toBe('amount injected');
  });

  test.each([
    ['mg/L', 'µL', 'ng', 50],
    ['g/L', 'µL', 'µg', 50],
    ['ng/µL', 'µL', 'ng', 50],
    ['ng/ml', 'ul', 'pg', 50],
    ['mM', 'µL', 'nmol', 50],
    ['µmol/L', 'mL', 'nmol', 50],
    ['\u03bcM', '\u03bcL', 'pmol', 50],
    ['mg/dL', 'µL', 'ng', 500],
    ['mg/L', 'mL', 'µg', 50],
    ['kg/L', 'L', 'kg', 50],
  ])('%s times %s gives %s', (concentrationUnit, volumeUnit, amount, value) => {
    const points = [1, 2, 3].map((n) => ({ concentration: 25, volume: 2 * n, response: n * n }));
    const line = fitCalibration(points, { concentrationUnit, volumeUnit, responseUnit: 'mAU s' });
    expect(line.units.amount).toBe(amount);
    expect(line.points[0]!.amount).toBe(value);
  });

  test('amounts are converted to the unit that was asked for', () => {
    const line = fitCalibration(series, { ...units, amountUnit: 'µg' });
    expect(line.points[4]!.amount).toBeCloseTo(0.25, 15);
    expect(line.units.slope).toBe('mAU s/µg');
    const inNanograms = fitCalibration(series, units);
    expect(line.slope.value).toBeCloseTo(1000 * inNanograms.slope.value, 9);
    expect(line.volumeOffset!.value).toBeCloseTo(inNanograms.volumeOffset!.value, 12);
  });

  test('points that state only a concentration give a line against concentration', () => {
    const points = [5, 10, 20].map((concentration) => ({
      concentration,
      response: 3 * concentration + (concentration % 3),
    }));
    const line = fitCalibration(points, units);
    expect(line.quantity).toBe('concentration');
    expect(line.units.amount).toBe('mg/L');
    expect(line.units.slope).toBe('mAU s/(mg/L)');
    expect(line.volumeOffset).toBeUndefined();
  });
});

describe('the intercept as a volume', () => {
  test('an injector that adds 0.3 µL to every volume shows as an intercept of 0.3 µL', () => {
    const points = [2, 4, 6, 8, 10].map((volume) => ({
      concentration: 25,
      volume,
      response: 0.8 * 25 * (volume + 0.3),
    }));
    const line = fitCalibration(points, units);
    expect(line.volumeOffset?.value).toBeCloseTo(0.3, 12);
    expect(line.volumeOffset?.significant).toBe(true);
    expect(line.warnings.map(({ code }) => code)).toEqual([]);
  });

  test('it says the same as a line against volume would', () => {
    const line = fitCalibration(series, units);
    const against = fitCalibration(
      series.map(({ volume, response }) => ({ amount: volume!, response })),
      { amountUnit: 'µL', responseUnit: 'mAU s' },
    );
    expect(line.volumeOffset!.value).toBeCloseTo(against.intercept.value / against.slope.value, 12);
  });

  test('two concentrations leave it out and say why', () => {
    const line = fitCalibration([...series, { concentration: 50, volume: 3, response: 122 }], units);
    expect(line.volumeOffset).toBeUndefined();
    expect(line.warnings.map(({ code }) => code)).toContain('calibration-volume-offset-unknown');
  });

  test('it has no interval on a line whose slope is not significant', () => {
    const line = fitCalibration(
      [2, 4, 6, 8].map((volume, i) => ({ concentration: 25, volume, response: [9, 11, 8, 12][i]! })),
      units,
    );
    expect(line.volumeOffset!.interval).toBeUndefined();
    expect(line.volumeOffset!.significant).toBe(false);
    expect(line.warnings.map(({ code }) => code)).toContain('calibration-slope-not-positive');
  });
});

describe('points left out', () => {
  const points = series.map((point, i) =>
    i === 2 ? { ...point, response: 70, excluded: { reason: 'air bubble in the cell' } } : point,
  );

  test('have no part in the line and stay beside it with their reason', () => {
    const line = fitCalibration(points, units);
    expect(line).toMatchObject({ degreesOfFreedom: 2, points: { length: 4 } });
    expect(line.slope.value).toBe(
      fitCalibration(
        series.filter((_, i) => i !== 2),
        units,
      ).slope.value,
    );
    expect(line.excluded).toHaveLength(1);
    expect(line.excluded[0]).toMatchObject({
      row: 3,
      injection: 'run 3',
      reason: 'air bubble in the cell',
      amount: 150,
    });
    expect(line.excluded[0]!.residual).toBeLessThan(-40);
  });

  test('need a reason in words', () => {
    const blank = [...series, { amount: 1, response: 1, excluded: { reason: ' ' } }];
    expect(() => fitCalibration(blank, units)).toThrow(
      'fitCalibration: option points[5].excluded.reason must be a reason in words; received " ".',
    );
  });
});

describe('doubts', () => {
  const codes = (points: readonly CalibrationPoint[], more: object = {}): string[] =>
    fitCalibration(points, { ...units, ...more }).warnings.map(({ code }) => code);

  test('a line through two levels cannot show a bend', () => {
    const points = [10, 10, 40, 40].map((concentration, i) => ({
      concentration,
      response: 3 * concentration + (i % 2),
    }));
    expect(codes(points)).toEqual(['calibration-two-levels']);
  });

  test('heights are named as what they are', () => {
    expect(codes(series)).toEqual([]);
    expect(codes(series, { responseKind: 'height' })).toEqual(['calibration-height']);
  });

  test('a falling line is doubted', () => {
    expect(codes(series.map((point) => ({ ...point, response: -point.response })))).toEqual([
      'calibration-slope-not-positive',
    ]);
  });

  test('equal responses give no share of variance, and no amount can be read', () => {
    const line = fitCalibration(
      [1, 2, 3].map((amount) => ({ amount, response: 7 })),
      { amountUnit: 'ng', responseUnit: 'mAU s' },
    );
    expect(line.rSquared).toBeUndefined();
    expect(line.slope.value).toBe(0);
    expect(line.points[0]!.relativeError).toBeUndefined();
    expect(line.warnings.map(({ code }) => code)).toEqual(['calibration-slope-not-positive']);
  });
});

describe('what cannot be fitted', () => {
  const amounts = (...pairs: [number, number][]): CalibrationPoint[] =>
    pairs.map(([amount, response]) => ({ amount, response }));
  const ng = { amountUnit: 'ng', responseUnit: 'mAU s' };

  test.each<[string, CalibrationPoint[], object, string, string]>([
    ['two points', amounts([1, 2], [2, 4]), ng, 'calibration-too-few-points', 'there are 2 and 2'],
    ['one point three times', amounts([1, 2], [1, 2], [1, 2]), ng, 'calibration-too-few-points', 'there are 1 and 1'],
    ['no points', [], ng, 'calibration-too-few-points', 'there are 0 and 0'],
    ['one level', amounts([5, 2], [5, 3], [5, 4]), ng, 'calibration-one-level', 'there are 3 and 1'],
    [
      'a response that is no number',
      amounts([1, 2], [2, NaN], [3, 4]),
      ng,
      'option-invalid',
      'points[1].response must be a finite number; received NaN',
    ],
    ['a negative amount', amounts([1, 2], [-2, 3], [3, 4]), ng, 'option-invalid', 'points[1].amount'],
    [
      'nothing injected',
      [{ response: 1 }],
      ng,
      'calibration-point-invalid',
      'point 1 must state amount, concentration and volume, or concentration',
    ],
    [
      'amount and concentration',
      [{ amount: 1, concentration: 2, response: 1 }],
      ng,
      'calibration-point-invalid',
      'point 1 must state amount,',
    ],
    ['amounts without a unit', amounts([1, 2], [2, 4], [3, 7]), units, 'unit-missing', 'option amountUnit'],
    ['concentrations without a unit', [...series], ng, 'unit-missing', 'option concentrationUnit'],
    ['responses without a unit', [...series], { concentrationUnit: 'mg/L' }, 'unit-missing', 'responseUnit'],
    ['an unknown unit', [...series], { ...units, concentrationUnit: 'ppm' }, 'unit-unknown', '"ppm" is not known'],
    ['an unknown volume', [...series], { ...units, volumeUnit: 'drops' }, 'unit-unknown', 'volumeUnit "drops"'],
    ['moles from a mass', [...series], { ...units, amountUnit: 'nmol' }, 'unit-mismatch', 'molar mass'],
    [
      'two ways of stating',
      [...series, { amount: 3, response: 3 }],
      { ...units, ...ng },
      'calibration-point-invalid',
      'point 6 must state amount, concentration and volume, or concentration, as all others do.',
    ],
    [
      'a confidence of 95',
      [...series],
      { ...units, confidence: 95 },
      'option-invalid',
      'confidence must be between 0 and 1',
    ],
    ['a mistyped option', [...series], { ...units, confidance: 0.9 }, 'option-unknown', 'did you mean confidence?'],
    ['another model', [...series], { ...units, model: 'parabola' }, 'option-invalid', "must be 'straight line'"],
    ['a point that is none', [1] as never, ng, 'option-invalid', 'must be an object'],
    ['points that are no list', { length: 3 } as never, ng, 'option-invalid', 'points must be an array of points'],
    [
      'numbers beyond squaring',
      amounts([1, 1e200], [2, 2e200], [3, 4e200]),
      ng,
      'calibration-point-invalid',
      'too large',
    ],
  ])('refuses %s', (_, points, options, code, message) => {
    const fit = (): unknown => fitCalibration(points, options as never);
    expect(fit).toThrow(expect.objectContaining({ code }) as Error);
    expect(fit).toThrow(message);
  });

  test('refuses a mistyped field, which would otherwise keep a point in that was to be left out', () => {
    const points = [...series.slice(1), { ...series[0]!, exclude: { reason: 'bubble' } }];
    expect(() => fitCalibration(points, units)).toThrow(
      'fitCalibration: there is no option points[4].exclude; did you mean excluded?',
    );
  });
});

test('the points are left as they were and the result survives JSON', () => {
  const before = JSON.stringify(series);
  const line = fitCalibration(series, { ...units, component: 'vanillin' });
  expect(JSON.stringify(series)).toBe(before);
  expect(JSON.parse(JSON.stringify(line))).toEqual(line);
  expect(line.component).toBe('vanillin');
  expect(line.range).toEqual([50, 250]);
  expect(line.volumeRange).toEqual([2, 10]);
});
