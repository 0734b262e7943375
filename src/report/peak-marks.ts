import type { Peak } from '../analysis/index.js';
import type { LimitKind } from '../integration/index.js';
import { significantNumber } from './axis-ticks.js';
import type { PeakShape } from './chromatogram-model.js';
import { coordinate, markup, type Markup } from './markup.js';
import type { PanelFrame } from './panel-frame.js';
import { place } from './scale.js';

/**
 * Start and end of a peak. Each is a short upright tick across the baseline,
 * joined to the signal where the two are apart (a drop line). A limit set by
 * hand stands on a foot; one where the record was cut off is dotted.
 */
export function peakLimits(shape: PeakShape, frame: PanelFrame): Markup {
  const { peak } = shape;
  const marks: Markup[] = [];
  const first = shape.signal[0];
  const last = shape.signal[shape.signal.length - 1];
  if (shape.from === peak.start) {
    marks.push(limit(peak.start, shape.base.value[0]!, first?.value[0], peak.startKind, frame));
  }
  if (shape.to === peak.end) {
    marks.push(limit(peak.end, shape.base.value.at(-1)!, last?.value.at(-1), peak.endKind, frame));
  }
  return markup`${marks}`;
}

const reach = 6;

function limit(time: number, base: number, signal: number | undefined, kind: LimitKind, frame: PanelFrame): Markup {
  const x = place(frame.x, time);
  const foot = place(frame.y, base);
  const head = signal === undefined ? foot : place(frame.y, signal);
  const upper = Math.min(foot - reach, head);
  const lower = Math.max(foot + reach, head);
  const bar = kind === 'by hand' ? `M${coordinate(x - 5)} ${coordinate(lower)}h10` : '';
  const dotted = kind === 'cut off' ? markup` stroke-dasharray="2 2.5"` : undefined;
  return markup`<path class="limit" d="${`M${coordinate(x)} ${coordinate(upper)}V${coordinate(lower)}${bar}`}"${dotted}><title>${`${kind} at ${time.toFixed(4)} min`}</title></path>`;
}

/** What a reader sees on pointing at a peak: its numbers and why it was cut where it was. */
export function peakTitle(peak: Peak, units: { readonly signal: string; readonly area: string }): string {
  const lines = [
    peak.name ?? `peak ${peak.id}`,
    `retention time ${peak.retentionTime.toFixed(3)} min`,
    `area ${significantNumber(peak.area, 5)} ${units.area}`,
    `height ${significantNumber(peak.height, 4)} ${units.signal}`,
    `from ${peak.start.toFixed(3)} min (${peak.startKind}) to ${peak.end.toFixed(3)} min (${peak.endKind})`,
    ...peak.decisions.map((decision) => decision.text),
    ...peak.warnings.map((warning) => warning.message),
  ];
  return lines.join('\n');
}
