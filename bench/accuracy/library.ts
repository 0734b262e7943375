import * as library from '../../src/index.js';
import type { Analysis, Trace } from '../../src/index.js';
import type { Analyser } from './score.js';

/** The library with no setting, as a user calls it. */
export const libraryAnalyser: Analyser = (time, signal, signalUnit) => {
  const analyse = (library as { analyse?: (trace: Trace) => Analysis }).analyse;
  if (analyse === undefined) throw new Error('the library exports no analyse');
  const everything = analyse(library.createTrace({ time, signal, timeUnit: 'min', signalUnit }));
  return { peaks: everything.peaks, everything: { ...everything, trace: undefined } };
};
