import { analyse, createTrace, renderChromatogram, type Peak } from '../../src/index.js';
import type { Analyser, FoundPeak } from './score.js';

/** The library with no setting, as a user calls it. */
export const libraryAnalyser: Analyser = (time, signal, signalUnit) => {
  const everything = analyse(createTrace({ time, signal, timeUnit: 'min', signalUnit }));
  const { peaks, disturbances } = everything;
  return { peaks: peaks.map(foundPeak), disturbances, everything: { ...everything, trace: undefined } };
};

const dividers = ['drop line', 'valley', 'skim', 'fit'];

function foundPeak(peak: Peak): FoundPeak {
  const { retentionTime, height, area, start, end, direction } = peak;
  const { areaUncertainty, tailingFactor: tailing } = peak;
  const { halfHeight: plates } = peak.plates;
  const resolution = peak.resolution?.halfHeight;
  return {
    ...{ retentionTime, height, area, start, end, direction },
    divided: dividers.includes(peak.startKind) || dividers.includes(peak.endKind),
    ...(areaUncertainty === undefined ? {} : { areaUncertainty }),
    ...(plates === undefined ? {} : { plates }),
    ...(tailing === undefined ? {} : { tailing }),
    ...(resolution === undefined ? {} : { resolution }),
  };
}

/** The picture of a run as the library draws it. */
export function drawRun(time: Float64Array, signal: Float64Array, signalUnit: string): string {
  return renderChromatogram(analyse(createTrace({ time, signal, timeUnit: 'min', signalUnit })));
}
