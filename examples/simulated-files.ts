import { simulateTrace, type TraceTruth } from 'peakwright';
import { runs, truth, type DemoRun } from './recipe.js';

/** A run as a file a data system could have exported, and what is true of it. */
export interface SimulatedFile {
  readonly run: DemoRun;
  /** Name of the file. */
  readonly name: string;
  /** Its text. */
  readonly text: string;
  /** What was put into it. */
  readonly truth: TraceTruth;
}

/** Makes the files of all runs of the recipe. */
export function simulateFiles(): readonly SimulatedFile[] {
  return runs.map((run) => {
    const { trace, truth: known } = simulateTrace(run.recipe);
    const lines = [
      'Invented data: no such sample, column or detector exists',
      `Sample: ${describeSample(run)}`,
      `Injected volume: ${run.volume} µL`,
      `Time (min),Signal 280 nm (${trace.signalUnit})`,
    ];
    trace.signal.forEach((reading, i) => lines.push(`${trace.time[i]!.toFixed(6)},${reading.toFixed(3)}`));
    return { run, name: `${run.file}.csv`, text: `${lines.join('\n')}\n`, truth: known };
  });
}

/** What was injected, in words. */
export function describeSample({ sample }: DemoRun): string {
  if (sample === 'vanillin standard') return `vanillin standard ${truth.standard} mg/L`;
  return sample === 'blank' ? 'blank (solvent)' : `vanilla extract diluted 1 + ${truth.dilution - 1}`;
}
