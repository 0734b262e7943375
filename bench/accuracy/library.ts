import { analyse, createTrace, renderChromatogram } from '../../src/index.js';
import type { Analyser } from './score.js';

/** The library with no setting, as a user calls it. */
export const libraryAnalyser: Analyser = (time, signal, signalUnit) => {
  const everything = analyse(createTrace({ time, signal, timeUnit: 'min', signalUnit }));
  return { peaks: everything.peaks, everything: { ...everything, trace: undefined } };
};

/** The picture of a run as the library draws it. */
export function drawRun(time: Float64Array, signal: Float64Array, signalUnit: string): string {
  return renderChromatogram(analyse(createTrace({ time, signal, timeUnit: 'min', signalUnit })));
}
