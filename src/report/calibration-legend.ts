import type { Calibration } from '../calibration/index.js';
import { dot } from './calibration-marks.js';
import { drawEntries, entryRows, type LegendEntry } from './legend.js';
import { look } from './look.js';
import { markup, type Markup } from './markup.js';

/** The legend of a calibration: how high it will be, and the drawing of it. */
export function calibrationLegend(
  calibration: Calibration,
  unknowns: boolean,
): { height: (left: number, right: number) => number; draw: (left: number, right: number, y: number) => Markup } {
  const percent = Number((100 * calibration.confidence).toFixed(3));
  const entries: LegendEntry[] = [
    ['standard', (x, y) => dot(x + 18, y, 'standard', undefined)],
    [
      `line, ${percent} % band of the line`,
      (x, y) =>
        markup`<rect x="${x}" y="${y - 6}" width="26" height="12" fill="${look.areaLight}"/><path d="M${x} ${y}h26" stroke="${look.ink}" stroke-width="1.5"/>`,
    ],
  ];
  if (calibration.excluded.length > 0) entries.push(['left out', (x, y) => dot(x + 18, y, 'left out', 'left out')]);
  if (unknowns) {
    entries.push([
      'unknown with its interval',
      (x, y) =>
        markup`<path d="M${x} ${y}h26M${x} ${y - 6}v12M${x + 26} ${y - 6}v12" stroke="${look.baseline}" stroke-width="3"/>`,
    ]);
  }
  return {
    height: (left, right) => 16 + 21 * entryRows(entries, left, right),
    draw: (left, right, y) => drawEntries(entries, left, right, y),
  };
}
