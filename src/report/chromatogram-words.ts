import type { Analysis } from '../analysis/index.js';
import type { KnownUnit } from '../trace/index.js';
import type { ChromatogramModel } from './chromatogram-model.js';
import { counted } from './number-text.js';

/** Name of the run, or the plain word when it has none. */
export function chromatogramTitle({ trace: { meta } }: Analysis): string {
  return meta.name ?? meta.file ?? 'Chromatogram';
}

/** What was integrated and where the units come from, in parts. */
export function chromatogramSubtitle({ peaks, trace, units, warnings }: Analysis, model: ChromatogramModel): string[] {
  const { wavelength, timeOrigin } = trace.meta;
  const whole = model.peaks.length === peaks.length;
  const { timeUnit, signalUnit } = units.provenance;
  return [
    whole
      ? `${counted(peaks.length, 'peak')} integrated`
      : `${model.peaks.length} of ${counted(peaks.length, 'peak')} in view`,
    ...(wavelength === undefined ? [] : [`${wavelength} nm`]),
    `time from ${timeOrigin === 'injection' ? timeOrigin : 'start of record'}`,
    ...doubt('time', timeUnit),
    ...doubt('signal', signalUnit),
    ...(warnings.length === 0 ? [] : [counted(warnings.length, 'warning')]),
  ];
}

function doubt(quantity: string, { unit, provenance }: KnownUnit): string[] {
  if (provenance === 'declared') return [];
  return [`${quantity} unit ${unit} ${provenance === 'assumed' ? 'assumed' : 'read from a header'}`];
}

/** The run in words, for those who cannot see the picture. */
export function chromatogramDescription({ units }: Analysis, { from, to, peaks, bands }: ChromatogramModel): string {
  const integrated = peaks.map(({ peak: { name, retentionTime, areaPercent } }) => {
    const share = areaPercent === undefined ? '' : `, ${areaPercent.toFixed(2)} % of the area`;
    return `${name ?? 'peak'} at ${retentionTime.toFixed(2)} min${share}`;
  });
  const list = (words: string, items: readonly string[]): string => ` ${words}: ${items.join('; ') || 'nothing'}.`;
  const range = `Signal in ${units.signal} against time from ${from.toFixed(2)} to ${to.toFixed(2)} min.`;
  return (
    range +
    list('Integrated', integrated) +
    list(
      'Set apart',
      bands.map(({ kind }) => kind),
    )
  );
}
