import type { Band, PeakShape, ChromatogramModel } from './chromatogram-model.js';
import { look } from './look.js';
import { markup, type Markup } from './markup.js';
import type { PanelFrame } from './panel-frame.js';
import { placeLabels, textHeight, type LabelRequest, type PlacedLabel } from './place-labels.js';
import { place } from './scale.js';
import { skyline } from './skyline.js';
import { fitText, textWidth } from './text-width.js';

/** A placed label and what it belongs to. */
export interface DrawnLabel extends PlacedLabel {
  /** Whether it names a peak or something set apart. */
  readonly about: 'peak' | 'set apart';
}

/** [px] Height to keep free above a view: one row of labels, more when they are many. */
export function labelRows(
  peaks: readonly PeakShape[],
  labels: 'name and time' | 'time' | 'none',
  width: number,
): number {
  if (labels === 'none' || peaks.length === 0) return 12;
  const versions = peaks.map((shape) => peakVersions(shape, labels)[0]!);
  const lines = Math.max(...versions.map((version) => version.length));
  const total = versions.reduce(
    (sum, version) => sum + Math.max(...version.map((text) => textWidth(text, look.labelSize))) + 12,
    0,
  );
  const rows = Math.min(5, Math.max(1, Math.ceil((1.35 * total) / width)));
  return rows * (textHeight(lines, look.labelSize) + 6) + 4;
}

/** Places the labels of one view: the tallest peaks first, then what was set apart. */
export function chromatogramLabels(
  model: ChromatogramModel,
  peaks: readonly PeakShape[],
  bands: readonly Band[],
  frame: PanelFrame,
  bandHeight: number,
  labels: 'name and time' | 'time' | 'none',
): { placed: DrawnLabel[]; missing: number } {
  if (labels === 'none') return { placed: [], missing: 0 };
  const { x, y, left, right, top, bottom } = frame;
  const { upper, lower } = skyline([...model.line, ...model.baselines], x, y, top, bottom);
  const ordered = [...peaks].sort(
    (a, b) => Math.abs(b.peak.height) - Math.abs(a.peak.height) || a.peak.retentionTime - b.peak.retentionTime,
  );
  const requests: LabelRequest[] = ordered.map((shape) => ({
    x: place(x, shape.peak.retentionTime),
    y: Math.min(Math.max(place(y, shape.apexLevel), top), bottom),
    side: shape.peak.direction === 'down' ? 'below' : 'above',
    versions: peakVersions(shape, labels),
  }));
  for (const band of bands) {
    const at = Math.min(Math.max(place(x, band.at), left), right);
    const column = Math.min(Math.max(Math.floor(at - left), 0), upper.length - 1);
    requests.push({ x: at, y: upper[column]!, side: 'above', versions: [[band.kind]] });
  }
  const field = {
    bounds: { left: left + 2, right: right + 18, top: top - bandHeight, bottom: bottom - 4 },
    upper,
    lower,
    taken: [],
    fontSize: look.labelSize,
  };
  const placed = placeLabels(requests, field).map((label): DrawnLabel => ({
    ...label,
    about: label.index < ordered.length ? 'peak' : 'set apart',
  }));
  const missing = ordered.length - placed.filter(({ about }) => about === 'peak').length;
  return { placed, missing };
}

function peakVersions({ peak }: PeakShape, labels: 'name and time' | 'time' | 'none'): string[][] {
  const time = peak.retentionTime.toFixed(2);
  if (labels === 'time' || peak.name === undefined || peak.name.trim() === '') return [[time]];
  return [[fitText(peak.name, look.labelSize, 170), time], [time]];
}

/** Labels and leaders as markup. */
export function labelMarks(labels: readonly DrawnLabel[]): Markup {
  const leaders = labels.flatMap(({ leader }) =>
    leader === undefined ? [] : [markup`<path d="M${leader[0]} ${leader[1]}L${leader[2]} ${leader[3]}"/>`],
  );
  const texts = labels.map(({ lines, box, about }) => {
    const middle = (box.left + box.right) / 2;
    const rows = lines.map((line, i) => {
      const baseline = box.top + look.labelSize * (0.82 + 1.16 * i);
      return markup`<tspan x="${middle}" y="${baseline}">${line}</tspan>`;
    });
    return about === 'peak'
      ? markup`<text class="label" fill="${look.ink}">${rows}</text>`
      : markup`<text class="label" fill="${look.apart}" font-style="italic">${rows}</text>`;
  });
  return markup`<g class="labels" font-size="${look.labelSize}" text-anchor="middle"><g fill="none" stroke="${look.muted}" stroke-width="0.9">${leaders}</g>${texts}</g>`;
}
