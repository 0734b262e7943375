import { analyse, createTrace, type Analysis } from '../../src/index.js';
import { libraryExport } from '../library.js';
import type { Analyser } from './score.js';

/** The library with no setting, as a user calls it. */
export const libraryAnalyser: Analyser = (time, signal, signalUnit) => {
  const everything = analyse(createTrace({ time, signal, timeUnit: 'min', signalUnit }));
  return { peaks: everything.peaks, everything: { ...everything, trace: undefined } };
};

/** The picture of a run as the library draws it. */
export function drawRun(time: Float64Array, signal: Float64Array, signalUnit: string): string {
  const render = libraryExport('renderChromatogram') as ((analysis: Analysis) => string) | undefined;
  if (render === undefined) throw new Error('--svg: the library exports no renderChromatogram');
  return render(analyse(createTrace({ time, signal, timeUnit: 'min', signalUnit })));
}
