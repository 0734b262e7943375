import { expect, test } from 'vitest';
import { parseSignalUnit, parseTimeUnit } from '../../../src/index.js';

test.each([
  ['min', 'min'],
  ['Minutes', 'min'],
  ['[min]', 'min'],
  ['(MIN.)', 'min'],
  ['s', 's'],
  ['sec', 's'],
  [' Seconds ', 's'],
  ['ms', 'ms'],
  ['h', 'h'],
  ['hours', 'h'],
])('%j is time in %s', (text, unit) => {
  expect(parseTimeUnit(text)).toBe(unit);
});

test.each([
  ['AU', 'AU'],
  ['au', 'AU'],
  ['mAU', 'mAU'],
  ['mau', 'mAU'],
  ['(mAU)', 'mAU'],
  ['milliabsorbance units', 'mAU'],
  ['uAU', 'µAU'],
  ['\u00B5AU', 'µAU'],
  ['\u03BCAU', 'µAU'],
  ['V', 'V'],
  ['Volts', 'V'],
  ['mV', 'mV'],
  ['{uV}', 'µV'],
  ['\u00B5V', 'µV'],
  ['\u03BCV', 'µV'],
  ['microvolts', 'µV'],
])('%j is signal in %s', (text, unit) => {
  expect(parseSignalUnit(text)).toBe(unit);
});

test('the micro sign of our spelling is U+00B5', () => {
  expect(parseSignalUnit('uV')).toBe('\u00B5V');
});

test.each(['', 'M', 'mAU', 'm', 'sm', '1/min'])('%j is not a unit of time', (text) => {
  expect(parseTimeUnit(text)).toBeUndefined();
});

test.each(['', 'MV', 'MAU', 'kV', 'a.u.', 'counts', 'm', 'u', 'nRIU', 'mm'])(
  '%j is not absorbance or voltage',
  (text) => {
    expect(parseSignalUnit(text)).toBeUndefined();
  },
);
