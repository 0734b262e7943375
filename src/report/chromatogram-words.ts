import type { Analysis } from '../analysis/index.js';
import type { KnownUnit } from '../trace/index.js';
import type { ChromatogramModel } from './chromatogram-model.js';

/** Name of the run, or the plain word when it has none. */
export function chromatogramTitle({ trace }: Analysis): string {
  return trace.meta.name ?? trace.meta.file ?? 'Chromatogram';
}

/** What was integrated and where the units come from, in parts. */
export function chromatogramSubtitle(analysis: Analysis, model: ChromatogramModel): string[] {
  const { meta } = analysis.trace;
  const count = analysis.peaks.length;
  const whole = model.peaks.length === count;
  const parts = [
    count === 0
      ? 'no peak integrated'
      : whole
        ? `${counted(count, 'peak')} integrated`
        : `${model.peaks.length} of ${counted(count, 'peak')} in view`,
  ];
  if (meta.wavelength !== undefined) parts.push(`${meta.wavelength} nm`);
  parts.push(meta.timeOrigin === 'injection' ? 'time from injection' : 'time from start of record');
  const { timeUnit, signalUnit } = analysis.units.provenance;
  const doubts = [doubt('time', timeUnit), doubt('signal', signalUnit)].filter((text) => text !== undefined);
  parts.push(...doubts);
  if (analysis.warnings.length > 0) parts.push(counted(analysis.warnings.length, 'warning'));
  return parts;
}

function doubt(quantity: string, { unit, provenance }: KnownUnit): string | undefined {
  if (provenance === 'declared') return undefined;
  return `${quantity} unit ${unit} ${provenance === 'assumed' ? 'assumed' : 'read from a header'}`;
}

/** The run in words, for those who cannot see the picture. */
export function chromatogramDescription(analysis: Analysis, model: ChromatogramModel): string {
  const { units } = analysis;
  const listed = model.peaks
    .slice(0, 12)
    .map(({ peak }) => {
      const share = peak.areaPercent === undefined ? '' : `, ${peak.areaPercent.toFixed(2)} % of the area`;
      return `${peak.name ?? 'peak'} at ${peak.retentionTime.toFixed(2)} min${share}`;
    })
    .join('; ');
  const more = model.peaks.length > 12 ? `; and ${model.peaks.length - 12} more` : '';
  const apart =
    model.bands.length === 0 ? '' : ` Set apart as no peak: ${model.bands.map(({ kind }) => kind).join(', ')}.`;
  const range = `Signal in ${units.signal} against time from ${model.from.toFixed(2)} to ${model.to.toFixed(2)} min.`;
  return `${range} ${model.peaks.length === 0 ? 'No integrated peak.' : `Integrated: ${listed}${more}.`}${apart}`;
}

/** `1 peak`, `2 peaks`. */
function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}
