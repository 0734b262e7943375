import {
  analyse,
  collectPoints,
  fitCalibration,
  identifyComponents,
  parseFile,
  predictAmount,
  renderCalibration,
  renderChromatogram,
  renderPeakTable,
  renderResultJson,
  type Analysis,
  type Calibration,
  type Component,
} from 'peakwright';
import { amountText, areasText, lineText, resultsCsv } from './demo-report.js';
import { openOutput } from './output.js';
import { peakTable } from './peak-table.js';
import { truth } from './recipe.js';
import { describeSample, simulateFiles, type SimulatedFile } from './simulated-files.js';

/** When a chemist who knows the separation expects each compound. */
const vanillin: Component = { name: 'vanillin', retentionTime: 6.765, window: 0.1 };
const compounds: readonly Component[] = [
  { name: 'vanillic acid', retentionTime: 4.62, window: 0.1 },
  { name: '4-hydroxybenzaldehyde', retentionTime: 6.51, window: 0.1 },
  vanillin,
  { name: 'ethyl vanillin', retentionTime: 9.48, window: 0.1 },
];

/** A run of the demonstration, integrated. */
export interface MeasuredRun extends SimulatedFile {
  readonly analysis: Analysis;
}

/** The whole job on the invented runs: files, peaks, the line, the amount beside the truth. */
export function runDemo(folder: string): void {
  const output = openOutput(folder);
  console.log('Vanillin in a vanilla extract. INVENTED DATA made by examples/recipe.ts, so the truth is known.\n');
  const measured = simulateFiles().map((file): MeasuredRun => {
    output.write(`traces/${file.name}`, file.text);
    const [trace] = parseFile(file.text, { file: file.name, injectedAt: 0 }).traces;
    const expected = file.run.sample === 'vanilla extract' ? compounds : [vanillin];
    return { ...file, analysis: identifyComponents(analyse(trace!), expected) };
  });
  for (const { run, name, analysis } of measured) {
    console.log(`${name}: ${describeSample(run)}, ${run.volume} µL`);
    console.log(`${peakTable(analysis)}\n`);
    output.write(`${run.file}.svg`, renderChromatogram(analysis));
    output.write(`${run.file}.peaks.csv`, renderPeakTable(analysis));
    output.write(`${run.file}.json`, renderResultJson(analysis));
  }

  const line = fitLine(measured.filter(({ run }) => run.sample === 'vanillin standard'));
  const extracts = measured.filter(({ run }) => run.sample === 'vanilla extract');
  const areas = extracts.map(vanillinIn);
  const options = { volume: 10, dilution: truth.dilution };
  const atSameVolume = predictAmount(line, areas, { ...options, intercept: 'injected volume' });
  const asBackground = predictAmount(line, areas, { ...options, intercept: 'background' });
  for (const prediction of [atSameVolume, asBackground]) {
    if (prediction.outcome === 'not determinable') throw new Error(prediction.reason);
  }
  console.log(`${lineText(line)}\n`);
  console.log(`${amountText(atSameVolume, asBackground)}\n`);
  console.log(`${areasText(extracts)}\n`);
  output.write(
    'curve.svg',
    renderCalibration(line, { unknowns: [{ name: 'vanilla extract', prediction: atSameVolume }] }),
  );
  output.write('results.csv', resultsCsv(measured, line, atSameVolume));
  console.log(output.summary());
}

function fitLine(standards: readonly MeasuredRun[]): Calibration {
  const injections = standards.map(({ run, name, analysis }) => ({
    concentration: truth.standard,
    volume: run.volume,
    injection: name,
    analysis,
  }));
  const { points, responseUnit, warnings } = collectPoints(vanillin.name, injections);
  for (const { message } of warnings) console.log(`note: ${message}`);
  return fitCalibration(points, { component: vanillin.name, concentrationUnit: 'mg/L', responseUnit });
}

function vanillinIn({ name, analysis }: MeasuredRun): number {
  const peak = analysis.peaks.find((candidate) => candidate.name === vanillin.name);
  if (peak === undefined) throw new Error(`${name}: no peak of vanillin was found.`);
  return peak.area;
}
