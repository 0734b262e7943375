import { describe, expect, test } from 'vitest';
import {
  collectPoints,
  fitCalibration,
  identifyComponents,
  predictAmount,
  type Analysis,
  type Disturbance,
} from '../../../src/index.js';
import { analysisFixture } from '../../support/analysis-fixture.js';

const components = [
  { name: 'vanillin', retentionTime: 6.5, window: 0.2 },
  { name: 'ethyl vanillin', retentionTime: 8.1, window: 0.2 },
];

/** One run of the standard: heights in proportion to the volume, peaks not yet named. */
function run(volume: number, more: { name?: string; vanillin?: boolean } = {}): Analysis {
  const { name = `standard ${volume} µL`, vanillin = true } = more;
  const peaks = [
    ...(vanillin ? [{ at: 6.52, sigma: 0.05, height: 12 * (volume + 0.3) }] : []),
    { at: 8.08, sigma: 0.06, height: 7 * (volume + 0.3) },
  ];
  return identifyComponents(analysisFixture({ name, peaks }), components);
}

const injections = [2, 4, 6, 8, 10].map((volume) => ({ analysis: run(volume), concentration: 25, volume }));

describe('collectPoints', () => {
  test('leads from named peaks to a line and to the amount in an unknown', () => {
    const { points, responseUnit, warnings } = collectPoints('vanillin', injections);
    expect(responseUnit).toBe('mAU s');
    expect(warnings).toEqual([]);
    expect(points[1]).toMatchObject({ concentration: 25, volume: 4, injection: 'standard 4 µL' });
    const line = fitCalibration(points, { concentrationUnit: 'mg/L', responseUnit, component: 'vanillin' });
    expect(line.volumeOffset!.value).toBeCloseTo(0.3, 9);
    const unknown = run(5);
    const read = predictAmount(line, unknown.peaks.find(({ name }) => name === 'vanillin')!.area, {
      volume: 5,
      intercept: 'injected volume',
    });
    if (read.outcome === 'not determinable') throw new Error(read.reason);
    expect(read.concentration!.value).toBeCloseTo(25, 8);
  });

  test('takes heights when asked, in the unit of the signal', () => {
    const { points, responseUnit } = collectPoints('ethyl vanillin', injections, { responseKind: 'height' });
    expect(responseUnit).toBe('mAU');
    expect(points[0]!.response).toBeCloseTo(7 * 2.3, 9);
  });

  test('a run without the peak gives no point and a warning', () => {
    const without = [...injections, { analysis: run(12, { vanillin: false }), concentration: 25, volume: 12 }];
    const { points, warnings } = collectPoints('vanillin', without);
    expect(points).toHaveLength(5);
    expect(warnings).toEqual([
      { code: 'collect-peak-missing', message: 'vanillin in standard 12 µL: no peak, so no point.' },
    ]);
  });

  test.each<[string, (analysis: Analysis) => Analysis]>([
    [
      'cut off by an end of the record',
      (analysis) => ({ ...analysis, peaks: analysis.peaks.map((peak) => ({ ...peak, endKind: 'cut off' as const })) }),
    ],
    [
      'the detector was saturated',
      (analysis) => {
        const saturation: Disturbance = {
          kind: 'saturation',
          start: 6.5,
          end: 6.54,
          at: 6.52,
          evidence: 'flat',
          text: '',
        };
        return { ...analysis, disturbances: [saturation] };
      },
    ],
  ])('leaves a peak out when %s', (reason, spoil) => {
    const spoiled = injections.map((each) => (each.volume === 10 ? { ...each, analysis: spoil(each.analysis) } : each));
    const { points, warnings } = collectPoints('vanillin', spoiled);
    expect(points[4]!.excluded).toEqual({ reason });
    expect(warnings[0]).toMatchObject({
      code: 'collect-peak-left-out',
      at: injections[4]!.analysis.peaks[0]!.retentionTime,
    });
    expect(points.slice(0, 4).some(({ excluded }) => excluded !== undefined)).toBe(false);
  });

  test('keeps a name, a level and a reason that were stated', () => {
    const stated = { ...injections[0]!, injection: 'A1', level: 'lowest', excluded: { reason: 'wrong vial' } };
    expect(collectPoints('vanillin', [stated]).points[0]).toMatchObject({
      injection: 'A1',
      level: 'lowest',
      excluded: { reason: 'wrong vial' },
    });
  });

  test('refuses runs in different units, and no runs', () => {
    const volts = { ...run(4), units: { ...run(4).units, area: 'mV s' } };
    expect(() => collectPoints('vanillin', [injections[0]!, { analysis: volts, amount: 1 }])).toThrow(
      'injections[1] must be in mAU s, as the first run; received "mV s"',
    );
    expect(() => collectPoints('vanillin', [])).toThrow('at least one run');
  });
});
