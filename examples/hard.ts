import { analyse, renderChromatogram, simulateTrace, type Peak, type TraceRecipe } from 'peakwright';
import { openOutput } from './output.js';
import { indent } from './peak-table.js';
import { renderTextTable } from './text-table.js';

/** Six invented runs of vanilla extracts in which a valley or a straight baseline would not do. */
const hardRuns: readonly (readonly [name: string, what: string, recipe: TraceRecipe])[] = [
  [
    'fused-pair',
    '4-hydroxybenzaldehyde and vanillin touch',
    run([emg('4-hydroxybenzaldehyde', 6.5, 60, 0.08), emg('vanillin', 6.8, 90, 0.08)]),
  ],
  [
    'hidden-peak',
    'the smaller of the two has no maximum of its own',
    run([emg('vanillin', 6.5, 90, 0.08), emg('ethyl vanillin', 6.7, 30, 0.08)]),
  ],
  [
    'rider',
    'a trace of ethyl vanillin on the tail of vanillin',
    run([emg('vanillin', 6.5, 800, 0.08, 0.08), emg('ethyl vanillin', 7.2, 9, 0.09)]),
  ],
  [
    'gradient',
    'the baseline rises and returns under the peaks',
    {
      ...run([emg('vanillic acid', 4.2, 40, 0.07), emg('vanillin', 6.5, 90, 0.08), emg('ethyl vanillin', 9.4, 6, 0.1)]),
      baseline: {
        offset: 2,
        ramps: [
          { from: 2, to: 10, rise: 25, rounding: 0.3 },
          { from: 10.6, to: 11.2, rise: -25, rounding: 0.2 },
        ],
      },
    },
  ],
  [
    'saturated',
    'the detector stops at 150 mAU: the area is a lower bound, the curve of the flanks stands beside it',
    { ...run([emg('vanillin', 6.5, 220, 0.08), emg('ethyl vanillin', 9.4, 20, 0.1)]), saturation: { level: 150 } },
  ],
  [
    'near-the-noise',
    'peaks a few times as high as the noise',
    { ...run([emg('vanillic acid', 4.2, 0.5, 0.07), emg('vanillin', 6.5, 1.2, 0.08)]), noise: { white: 0.08 } },
  ],
];

function emg(
  name: string,
  retentionTime: number,
  height: number,
  sigma: number,
  tau = 0.03,
): NonNullable<TraceRecipe['peaks']>[number] {
  return { shape: 'emg', name, retentionTime, height, sigma, tau };
}

function run(peaks: NonNullable<TraceRecipe['peaks']>): TraceRecipe {
  return { duration: 12, interval: 0.3, baseline: { offset: 2, drift: 2 }, noise: { white: 0.02 }, seed: 11, peaks };
}

/** Analyses the six runs with no setting, and prints what was found beside what was put in. */
export function runHard(folder: string): void {
  const output = openOutput(folder);
  console.log('Six hard runs, invented: areas found with no setting beside those put in.\n');
  for (const [name, what, recipe] of hardRuns) {
    const { trace, truth } = simulateTrace(recipe);
    const analysis = analyse(trace);
    const rows = truth.peaks.map((peak) => {
      const found = nearest(analysis.peaks, peak.retentionTime, peak.sigma);
      const area = found && name === 'saturated' && found.fittedArea !== undefined ? found.fittedArea : found?.area;
      return {
        compound: peak.name,
        'tR [min]': found?.retentionTime,
        'area [mAU s]': found?.area,
        '± [mAU s]': found?.areaUncertainty,
        'between limits': found?.dividedArea,
        'of its curve': found?.fittedArea,
        'put in': peak.area,
        'difference %': area === undefined ? undefined : 100 * (area / peak.area - 1),
        limits: found && `${found.startKind} to ${found.endKind}`,
      };
    });
    const missed = truth.peaks.flatMap((peak) => {
      if (nearest(analysis.peaks, peak.retentionTime, peak.sigma)) return [];
      const why = analysis.rejected.find((r) => Math.abs(r.at - peak.retentionTime) < peak.sigma);
      return [`not found: ${peak.name}. ${why?.text ?? 'Nothing was seen there.'}\n`];
    });
    console.log(`${name}: ${what}\n${indent(renderTextTable(rows) + missed.join(''))}`);
    output.write(`hard-${name}.svg`, renderChromatogram(analysis));
  }
  console.log(`The difference of the saturated peak is that of its curve.\n\n${output.summary()}`);
}

function nearest(peaks: readonly Peak[], time: number, within: number): Peak | undefined {
  const close = peaks.filter((p) => Math.abs(p.retentionTime - time) < within);
  return close.sort((a, b) => Math.abs(a.retentionTime - time) - Math.abs(b.retentionTime - time))[0];
}
