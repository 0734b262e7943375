import type { Analysis } from '../analysis/index.js';
import type { ChromatogramModel } from './chromatogram-model.js';
import { counted } from './number-text.js';

/** What was integrated and where the units come from, in parts. */
export function chromatogramSubtitle({ peaks, trace, units, warnings }: Analysis, model: ChromatogramModel): string[] {
  const { wavelength, timeOrigin } = trace.meta;
  const { timeUnit, signalUnit } = units.provenance;
  const shown = model.peaks.length;
  const whole = shown === peaks.length;
  const parts = [
    `${whole ? '' : `${shown} of `}${counted(peaks.length, 'peak')} ${whole ? 'integrated' : 'in view'}`,
    `time from ${timeOrigin}`,
  ];
  if (wavelength !== undefined) parts.push(`${wavelength} nm`);
  for (const { unit, provenance } of [timeUnit, signalUnit]) {
    if (provenance !== 'declared') parts.push(`unit ${unit} ${provenance}`);
  }
  if (warnings.length > 0) parts.push(counted(warnings.length, 'warning'));
  return parts;
}

/** The peaks in words, for those who cannot see the picture. */
export function chromatogramDetails({ peaks }: ChromatogramModel): string[] {
  return peaks.map(({ peak: { name, retentionTime, areaPercent } }) => {
    const share = areaPercent === undefined ? '' : `, ${areaPercent.toFixed(2)} % of the area`;
    return `${name ?? 'peak'} at ${retentionTime.toFixed(2)} min${share}`;
  });
}
