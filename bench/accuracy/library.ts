import { createTrace, type Analysis, type Trace } from '../../src/index.js';
import { libraryExport } from '../library.js';
import type { Analyser } from './score.js';

/** The library with no setting, as a user calls it. */
export const libraryAnalyser: Analyser = (time, signal, signalUnit) => {
  const analyse = libraryExport('analyse') as ((trace: Trace) => Analysis) | undefined;
  if (analyse === undefined) throw new Error('the library exports no analyse');
  const everything = analyse(createTrace({ time, signal, timeUnit: 'min', signalUnit }));
  return { peaks: everything.peaks, everything: { ...everything, trace: undefined } };
};
