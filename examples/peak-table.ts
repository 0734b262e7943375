import type { Analysis } from 'peakwright';
import { renderTextTable } from './text-table.js';

/** The peaks of a run for the screen, then what else is in the record and what to doubt. */
export function peakTable({ peaks, disturbances, units, warnings }: Analysis): string {
  const rows = peaks.map((peak, i) => ({
    peak: String(i + 1),
    name: peak.name,
    'tR [min]': peak.retentionTime,
    start: peak.start,
    end: peak.end,
    [`area [${units.area}]`]: peak.area,
    [`± [${units.area}]`]: peak.areaUncertainty,
    'area %': peak.areaPercent,
    [`height [${units.signal}]`]: peak.height,
    'W50 [min]': peak.widths.halfHeight,
    plates: peak.plates.halfHeight === undefined ? undefined : Math.round(peak.plates.halfHeight),
    tailing: peak.tailingFactor,
    Rs: peak.resolution?.halfHeight,
    'S/N': peak.signalToNoise === undefined ? undefined : Math.round(peak.signalToNoise.value),
    limits: peak.startKind === peak.endKind ? peak.startKind : `${peak.startKind} to ${peak.endKind}`,
  }));
  const apart = disturbances.map(({ kind, start, end, area }) => {
    const size = area === undefined ? '' : `, ${area.toFixed(2)} ${units.area}`;
    return `set apart: ${kind}, ${start.toFixed(3)} to ${end.toFixed(3)} min${size}`;
  });
  const doubts = [...warnings, ...peaks.flatMap((peak) => peak.warnings)].map(({ message }) => `note: ${message}`);
  const table = rows.length === 0 ? 'no peak' : renderTextTable(rows).trimEnd();
  return indent([table, ...apart, ...doubts].join('\n'));
}

/** Sets text in by two blanks, so that the line above it stands out. */
export function indent(text: string): string {
  return text.replaceAll(/^(?=.)/gm, '  ');
}
