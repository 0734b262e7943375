import type { Calibration, DeterminedPrediction, Prediction } from 'peakwright';
import { renderTextTable } from './text-table.js';
import type { MeasuredRun } from './demo.js';
import { indent } from './peak-table.js';
import { truth } from './recipe.js';

/** The line with its points, standard errors, and the intercept as a volume beside the true offset. */
export function lineText(line: Calibration): string {
  const { slope, intercept, units, points, volumeOffset, residualStandardDeviation } = line;
  const rows = points.map((point) => ({
    injection: point.injection,
    [`injected [${units.amount}]`]: point.amount,
    [`area [${units.response}]`]: point.response,
    line: point.fitted,
    residual: point.residual,
    'residual %': point.relativeResidual,
  }));
  const numbers = [
    `slope                  ${plusMinus(slope, 4)} ${units.slope}`,
    `intercept              ${plusMinus(intercept, 2)} ${units.response}`,
    `scatter about it       ${residualStandardDeviation.toFixed(2)} ${units.response}`,
  ];
  if (volumeOffset !== undefined) {
    numbers.push(`intercept as a volume  ${plusMinus(volumeOffset, 3)} ${units.volume}`);
    numbers.push(
      `truth                  ${truth.injectorOffset.toFixed(3)} ${units.volume} too much in every injection`,
    );
  }
  for (const { message } of line.warnings) numbers.push(`note: ${message}`);
  const title = 'Line of area against vanillin injected: straight, not weighted (± one standard error)';
  return `${title}\n${indent(`${renderTextTable(rows)}\n${numbers.join('\n')}`)}`;
}

/** The amount beside the truth, once as it should be read and once as it should not. */
export function amountText(atSameVolume: Prediction, asBackground: Prediction): string {
  const row = (name: string, prediction: Prediction): Record<string, string | number | undefined> => {
    if (prediction.outcome === 'not determinable') return { reading: name };
    const { value, standardUncertainty, interval } = inGrams(prediction);
    return {
      reading: name,
      'result [g/L]': value,
      'standard error': standardUncertainty,
      '95 % from': interval?.from,
      to: interval?.to,
      'off the truth [%]': 100 * (value / truth.extract - 1),
    };
  };
  const rows = [
    row('at the same volume as the standard', atSameVolume),
    row('intercept taken for a background', asBackground),
    { reading: 'truth', 'result [g/L]': truth.extract },
  ];
  const scope = atSameVolume.outcome === 'not determinable' ? '' : atSameVolume.scope;
  const words = [
    'Every injection delivered too much, of the extract as well as of the standard. Read at the volume at',
    'which the standard was injected too, the excess is in both and cancels: the first line is the one to',
    'report. The second takes the intercept for a signal that is there without vanillin.',
    `Scope: ${scope}. Purity of the standard, weighing and dilution are not in the interval, nor is what the`,
    'division of the fused pair moves from one peak to the other (next table).',
  ];
  const title = 'Vanillin in the extract before dilution, from two injections of 10 µL';
  return `${title}\n${indent(`${renderTextTable(rows)}${words.join('\n')}`)}`;
}

/** What the integration costs: every peak was put in with a known area. */
export function areasText(extracts: readonly MeasuredRun[]): string {
  const rows = extracts.flatMap(({ name, analysis, truth: { peaks } }) =>
    peaks.map((peak) => {
      const found = analysis.peaks.find((candidate) => candidate.name === peak.name)?.area;
      return {
        run: name,
        compound: peak.name,
        [`found [${analysis.units.area}]`]: found,
        'put in': peak.area,
        'difference %': found === undefined ? undefined : 100 * (found / peak.area - 1),
      };
    }),
  );
  const title = 'Areas found in the extract beside those put in; 4-hydroxybenzaldehyde and vanillin are fused';
  return `${title}\n${indent(renderTextTable(rows).trimEnd())}`;
}

/** One row for each run, the result in the rows of the extract. */
export function resultsCsv(measured: readonly MeasuredRun[], line: Calibration, prediction: Prediction): string {
  const head = [
    'run',
    'sample',
    'volume set [µL]',
    'vanillin area [mAU s]',
    'area put in [mAU s]',
    'line [mAU s]',
    'residual [mAU s]',
    'vanillin before dilution [g/L]',
    'standard uncertainty [g/L]',
    '95 % from [g/L]',
    '95 % to [g/L]',
    'truth [g/L]',
    'scope',
  ];
  const rows = measured.map(({ run, name, analysis, truth: known }) => {
    const point = line.points.find(({ injection }) => injection === name);
    const area = analysis.peaks.find((peak) => peak.name === 'vanillin')?.area;
    const put = known.peaks.find((peak) => peak.name === 'vanillin')?.area ?? 0;
    const row = [run.file, run.sample, run.volume, area, put, point?.fitted, point?.residual];
    if (run.sample !== 'vanilla extract' || prediction.outcome === 'not determinable') return row;
    const { value, standardUncertainty, interval } = inGrams(prediction);
    const scope = `${prediction.scope}; mean of both injections`;
    return [...row, value, standardUncertainty, interval?.from, interval?.to, truth.extract, scope];
  });
  return [head, ...rows].map((row) => `${head.map((_, i) => row[i] ?? '').join(',')}\r\n`).join('');
}

/** The result in g/L; the line is in mg/L. */
function inGrams({
  result,
}: DeterminedPrediction): Pick<DeterminedPrediction['result'], 'value' | 'standardUncertainty' | 'interval'> {
  const { value, standardUncertainty, interval } = result;
  return {
    value: value / 1000,
    standardUncertainty: standardUncertainty / 1000,
    ...(interval === undefined
      ? {}
      : { interval: { ...interval, from: interval.from / 1000, to: interval.to / 1000 } }),
  };
}

function plusMinus(
  quantity: { readonly value: number; readonly standardUncertainty: number },
  decimals: number,
): string {
  return `${quantity.value.toFixed(decimals)} ± ${quantity.standardUncertainty.toFixed(decimals)}`;
}
