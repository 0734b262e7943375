import { describe, expect, test } from 'vitest';
import { identifyComponents, identifyPeaks, type Analysis } from '../../../src/index.js';

const at = (...times: number[]): { retentionTime: number; name?: string }[] =>
  times.map((retentionTime) => ({ retentionTime }));
const vanillin = { name: 'vanillin', retentionTime: 6.5, window: 0.2 };
const ethylVanillin = { name: 'ethyl vanillin', retentionTime: 6.8, window: 0.2 };

const names = (peaks: readonly { name?: string }[]): (string | undefined)[] => peaks.map(({ name }) => name);
const codes = (warnings: readonly { code: string }[]): string[] => warnings.map(({ code }) => code);

describe('identifyPeaks', () => {
  test('gives each component the peak closest to its time', () => {
    const peaks = at(4.1, 6.52, 6.83, 9);
    const found = identifyPeaks(peaks, [ethylVanillin, vanillin]);
    expect(names(found.peaks)).toEqual([undefined, 'vanillin', 'ethyl vanillin', undefined]);
    expect(found.warnings).toEqual([]);
    expect(peaks).toEqual(at(4.1, 6.52, 6.83, 9));
    expect(found.peaks[0]).toBe(peaks[0]);
  });

  test('takes the closest of two in the window and says that there was another', () => {
    const found = identifyPeaks(at(6.38, 6.55), [vanillin]);
    expect(names(found.peaks)).toEqual([undefined, 'vanillin']);
    expect(found.warnings).toEqual([
      {
        code: 'component-ambiguous',
        message: 'vanillin, expected at 6.5 ± 0.2 min: a peak; the nearest without a name is at 6.38 min.',
        at: 6.55,
      },
    ]);
  });

  test('both ends of the window belong to it, in spite of rounding', () => {
    // 6.5 - 6.3 and 6.7 - 6.5 are not 0.2 in binary
    expect(names(identifyPeaks(at(6.3), [vanillin]).peaks)).toEqual(['vanillin']);
    expect(names(identifyPeaks(at(6.7), [vanillin]).peaks)).toEqual(['vanillin']);
  });

  test('a peak just outside is not taken, but named in the warning', () => {
    const found = identifyPeaks(at(6.735), [vanillin]);
    expect(names(found.peaks)).toEqual([undefined]);
    expect(found.warnings).toEqual([
      {
        code: 'component-missing',
        message: 'vanillin, expected at 6.5 ± 0.2 min: no peak; the nearest without a name is at 6.735 min.',
        at: 6.5,
      },
    ]);
  });

  test('a component without any peak is missing', () => {
    const found = identifyPeaks([], [vanillin]);
    expect(found.warnings[0]!.message).toBe('vanillin, expected at 6.5 ± 0.2 min: no peak.');
    expect(codes(identifyPeaks([], [vanillin, ethylVanillin]).warnings)).toEqual([
      'component-missing',
      'component-missing',
    ]);
  });

  test('one peak never has two names: the closer component has it, the other takes its next', () => {
    const found = identifyPeaks(at(6.66, 6.95), [vanillin, ethylVanillin]);
    expect(names(found.peaks)).toEqual(['ethyl vanillin', undefined]);
    expect(codes(found.warnings)).toEqual(['component-contested', 'component-missing', 'component-ambiguous']);
    const next = identifyPeaks(at(6.33, 6.66), [vanillin, ethylVanillin]);
    expect(names(next.peaks)).toEqual(['vanillin', 'ethyl vanillin']);
    expect(codes(next.warnings)).toEqual(['component-contested']);
  });

  test('of equal distances the earlier peak and the component named first come first', () => {
    const half = { name: 'half', retentionTime: 5, window: 1 };
    expect(names(identifyPeaks(at(4.5, 5.5), [half]).peaks)).toEqual(['half', undefined]);
    expect(names(identifyPeaks(at(5), [{ ...half, name: 'first' }, half]).peaks)).toEqual(['first']);
  });

  test('a name from an earlier look is dropped when it does not hold any more', () => {
    const found = identifyPeaks([{ retentionTime: 3, name: 'vanillin' }, { retentionTime: 6.5 }], [vanillin]);
    expect(found.peaks).toEqual([{ retentionTime: 3 }, { retentionTime: 6.5, name: 'vanillin' }]);
    expect('name' in found.peaks[0]!).toBe(false);
  });

  test.each([
    [{ ...vanillin, name: ' ' }, 'components[1].name must be a name no other'],
    [{ ...vanillin, name: 'known' }, 'a name no other component has'],
    [{ ...vanillin, window: 0 }, 'components[1].window must be a number above 0'],
    [{ ...vanillin, retentionTime: NaN }, 'components[1].retentionTime'],
    [{ ...vanillin, windows: 1 } as never, 'did you mean window?'],
  ])('refuses %o', (component, message) => {
    const known = { name: 'known', retentionTime: 1, window: 0.1 };
    expect(() => identifyPeaks([], [known, component])).toThrow(message);
  });
});

test('an analysis keeps its other warnings and loses those of an earlier identification', () => {
  const other = { code: 'other', message: 'Something else.' };
  const analysis = { peaks: at(6.5), warnings: [other] } as unknown as Analysis;
  const first = identifyComponents(analysis, [ethylVanillin]);
  expect(codes(first.warnings)).toEqual(['other', 'component-missing']);
  const second = identifyComponents(first, [vanillin]);
  expect(codes(second.warnings)).toEqual(['other']);
  expect(names(second.peaks)).toEqual(['vanillin']);
  expect(names(analysis.peaks)).toEqual([undefined]);
});
