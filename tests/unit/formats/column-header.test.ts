import { describe, expect, test } from 'vitest';
import { isUnitsRow, parseColumnHeader } from '../../../src/formats/column-header.js';

describe('parseColumnHeader', () => {
  test.each([
    ['time_min', 'time', 'min'],
    ['Time (s)', 'Time', 's'],
    ['Time [sec.]', 'Time', 'sec.'],
    ['Zeit/min', 'Zeit', 'min'],
    ['Retention time, minutes', 'Retention time', 'minutes'],
    ['Time in seconds', 'Time', 'seconds'],
    ['min', 'min', 'min'],
    ['t(h)', 't', 'h'],
    ['RT', 'RT', undefined],
    ['time', 'time', undefined],
  ])('finds a column of times in "%s"', (text, name, timeUnit) => {
    const head = parseColumnHeader(text);
    expect(head).toMatchObject({ name, isTime: true });
    expect(head.timeUnit).toBe(timeUnit);
  });

  test.each([
    ['signal_uV', 'signal', 'uV', undefined],
    ['Signal [mAU]', 'Signal', 'mAU', undefined],
    ['UV_280nm (mAU)', 'UV_280nm', 'mAU', 280],
    ['UV 254.5 nm/AU', 'UV 254.5 nm', 'AU', 254.5],
    ['Absorbance (280 nm)', 'Absorbance (280 nm)', undefined, 280],
    ['mV', 'mV', 'mV', undefined],
    ['signal \u03bcV', 'signal', '\u03bcV', undefined],
    ['RI (nRIU)', 'RI', 'nRIU', undefined],
    // One letter may be the name of a detector: ampere and siemens need their prefix.
    ['Detector (A)', 'Detector', undefined, undefined],
    ['Current (nA)', 'Current', 'nA', undefined],
    ['Detector (left)', 'Detector', undefined, undefined],
    // The quantity is no unit: it does not say whether AU or mAU is meant.
    ['Absorbance', 'Absorbance', undefined, undefined],
    ['', '', undefined, undefined],
  ])('finds a signal in "%s"', (text, name, signalUnit, wavelength) => {
    const head = parseColumnHeader(text);
    expect(head).toMatchObject({ name, isTime: false });
    expect([head.signalUnit, head.wavelength]).toStrictEqual([signalUnit, wavelength]);
  });

  test('takes the unit from the row below', () => {
    expect(parseColumnHeader('Time', '[min]')).toMatchObject({ isTime: true, timeUnit: '[min]' });
    expect(parseColumnHeader('UV', 'mAU')).toMatchObject({ signalUnit: 'mAU' });
  });
});

test('A row of units is one that holds nothing else', () => {
  expect(isUnitsRow(['min', 'mAU'])).toBe(true);
  expect(isUnitsRow(['[min]', '', '[nRIU]'])).toBe(true);
  expect(isUnitsRow(['Time', 'mAU'])).toBe(false);
  expect(isUnitsRow(['', ''])).toBe(false);
});
