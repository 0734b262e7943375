import { describe, expect, test } from 'vitest';
import { fitCalibration, predictAmount } from '../../../src/calibration/index.js';
import { renderCalibration } from '../../../src/report/index.js';
import { bandAt } from '../../../src/report/calibration-model.js';
import { valueWithUncertainty } from '../../../src/report/number-text.js';
import { textWidth } from '../../../src/report/text-width.js';
import { allElements, ofClass, parseStrictXml, pathPoints } from '../../support/strict-xml.js';

const areas = [41.9, 80.6, 121.7, 160.2, 180.4, 201.9];
const points = areas.map((response, i) => ({
  concentration: 25,
  volume: [2, 4, 6, 8, 10, 10][i]!,
  response,
  ...(i === 4 ? { excluded: { reason: 'bubble in the loop' } } : {}),
}));
const line = fitCalibration(points, { component: 'vanillin', concentrationUnit: 'mg/L', responseUnit: 'mAU s' });
const unknowns = [{ name: 'extract A', prediction: predictAmount(line, [130.3, 131.1], { volume: 10 }) }];

describe('renderCalibration', () => {
  test('draws each point above and its residual below, those left out apart and with their reason', () => {
    const root = parseStrictXml(renderCalibration(line));
    expect(ofClass(ofClass(root, 'points')[0]!, 'point')).toHaveLength(5);
    expect(ofClass(ofClass(root, 'points')[0]!, 'left-out')).toHaveLength(1);
    expect(ofClass(ofClass(root, 'residuals')[0]!, 'point')).toHaveLength(5);
    expect(renderCalibration(line)).toContain('left out: bubble in the loop');
  });

  test('the band is that of the line: t s sqrt(1/n + (x - mean)² / Sxx)', () => {
    // Draper and Smith, Applied Regression Analysis, chapter 1 (formula from memory).
    const { coverageFactor, residualStandardDeviation: s, meanAmount, sumOfSquares } = line;
    for (const x of [0, 50, meanAmount, 250, 400]) {
      const expected = coverageFactor * s * Math.sqrt(1 / 5 + (x - meanAmount) ** 2 / sumOfSquares);
      expect(bandAt(line, x) / expected).toBeCloseTo(1, 9);
    }
  });

  test('shows what was read from the line with its name, value and interval', () => {
    const svg = renderCalibration(line, { unknowns });
    const root = parseStrictXml(svg);
    const { amount } = unknowns[0]!.prediction as { amount: { value: number; standardUncertainty: number } };
    const label = ofClass(root, 'label')[0]!.children.map(({ text }) => text);
    expect(label).toEqual(['extract A', `${valueWithUncertainty(amount.value, amount.standardUncertainty)} ng`]);
    expect(ofClass(root, 'unknown')).toHaveLength(1);
    expect(svg).toContain('(Fieller)');
  });

  test('no label lies over the dotted line of an unknown, and each that finds no room is counted', () => {
    for (const responses of [[130.3], [60, 130, 133, 185], [3], [195, 196, 197]]) {
      const several = responses.map((response, i) => ({
        name: `extract ${i + 1}`,
        prediction: predictAmount(line, [response, response + 0.8], { volume: 10 }),
      }));
      const root = parseStrictXml(renderCalibration(line, { unknowns: several }));
      const ways = ofClass(root, 'unknown').map(({ children }) => pathPoints(children[1]!.attributes['d']!));
      const texts = ofClass(root, 'label').flatMap(({ attributes, children }) =>
        children.map((child) => {
          const x = Number(child.attributes['x']);
          const width = textWidth(child.text, 15);
          const left = x - { start: 0, middle: 0.5, end: 1 }[attributes['text-anchor']!]! * width;
          return { left, right: left + width, foot: Number(child.attributes['y']) };
        }),
      );
      for (const { left, right, foot } of texts) {
        for (const [[start, level], [at], [, axis]] of ways as [
          [number, number],
          [number, number],
          [number, number],
        ][]) {
          expect(right > start && left < at && foot > level && foot - 11 < level).toBe(false);
          expect(left < at && right > at && foot > level && foot - 11 < axis).toBe(false);
        }
      }
      const missing = />(\d+) labels? left out/.exec(renderCalibration(line, { unknowns: several }));
      expect(ofClass(root, 'label').length + Number(missing?.[1] ?? 0)).toBe(responses.length);
    }
  });

  test('states equation, uncertainties and units', () => {
    const texts = allElements(parseStrictXml(renderCalibration(line)))
      .map(({ text }) => text)
      .join('\n');
    expect(texts).toMatch(/slope [\d.]+ ± [\d.]+ mAU s\/ng/);
    expect(texts).toMatch(/intercept −?[\d.]+ ± [\d.]+ mAU s/);
    expect(texts).toContain('amount injected [ng]');
    expect(texts).toContain('area [mAU s]');
  });

  test('is well-formed whatever the names are, and the same text twice', () => {
    const attack = `</text><script>\0"'&`;
    const hostile = { ...line, component: attack, units: { ...line.units, response: attack } };
    const svg = renderCalibration(hostile, { unknowns: [{ ...unknowns[0]!, name: attack }] });
    expect(allElements(parseStrictXml(svg)).some(({ name }) => name === 'script')).toBe(false);
    expect(renderCalibration(hostile, { unknowns: [{ ...unknowns[0]!, name: attack }] })).toBe(svg);
  });

  test.each([
    ['a perfect line', [10, 20, 30], [1, 2, 3]],
    ['a level line', [5, 5, 5], [1, 2, 3]],
    ['a falling line', [30, 19, 11], [1, 2, 3]],
    ['tiny amounts and huge responses', [1e9, 2.1e9, 2.9e9], [1e-9, 2e-9, 3e-9]],
  ])('draws %s without a number that is none', (_, responses, amounts) => {
    const fit = fitCalibration(
      responses.map((response, i) => ({ response, amount: amounts[i]! })),
      { amountUnit: 'ng', responseUnit: 'mAU s' },
    );
    for (const options of [{}, { width: 320, height: 400 }]) {
      const svg = renderCalibration(fit, {
        ...options,
        unknowns: [{ name: 'x', prediction: predictAmount(fit, [responses[1]!]) }],
      });
      expect(() => parseStrictXml(svg)).not.toThrow();
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    }
  });

  test('refuses an unknown read from another calibration, and sizes out of range', () => {
    const other = fitCalibration(
      [1, 2, 3].map((x) => ({ amount: x, response: 2 * x + 0.01 * x * x })),
      {
        amountUnit: 'µg',
        responseUnit: 'mAU s',
      },
    );
    const foreign = [{ name: 'x', prediction: predictAmount(other, 4) }];
    expect(() => renderCalibration(line, { unknowns: foreign })).toThrow(
      expect.objectContaining({ code: 'option-invalid' }),
    );
    expect(() => renderCalibration(line, { width: 1 })).toThrow('from 320 to 8000 px');
  });
});

test('a value is rounded to two digits of its uncertainty', () => {
  // GUM (JCGM 100:2008) 7.2.6: usually at most two significant digits of the uncertainty.
  expect(valueWithUncertainty(74.5672, 1.38)).toBe('74.6 ± 1.4');
  expect(valueWithUncertainty(-0.0123456, 0.00047)).toBe('−0.01235 ± 0.00047');
  expect(valueWithUncertainty(25_123, 60_622)).toBe('25\u2009000 ± 61\u2009000');
  expect(valueWithUncertainty(1.0004e9, 2.2e8)).toBe('(1.00 ± 0.22) · 10⁹');
  expect(valueWithUncertainty(3, 0)).toBe('3.00000');
});
