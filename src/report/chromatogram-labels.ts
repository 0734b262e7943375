import type { Band, PeakShape, ChromatogramModel } from './chromatogram-model.js';
import { look } from './look.js';
import { coordinate, markup, type Markup } from './markup.js';
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

/** How the labels of one view are set. */
export interface LabelSetting {
  /** What they say. */
  readonly labels: 'name and time' | 'time' | 'none';
  /** Whether they run upwards, because side by side they would need more than two rows. */
  readonly upright: boolean;
  /** [px] Height to keep free for them above the signal. */
  readonly strip: number;
  /** [px] Height to keep free below it, for peaks that point down. */
  readonly margin: number;
}

/** Chooses how the labels of some peaks are set in a width. */
export function labelSetting(
  peaks: readonly PeakShape[],
  labels: LabelSetting['labels'],
  width: number,
  bands: boolean,
): LabelSetting {
  const upright = rowsNeeded(peaks, labels, width) > 2;
  if (labels === 'none') return { labels, upright: false, strip: 12, margin: 14 };
  if (peaks.length === 0) return { labels, upright: false, strip: bands ? 24 : 12, margin: 14 };
  const versions = peaks.map((shape) => peakVersions(shape, labels, upright)[0]!);
  const lines = Math.max(...versions.map((version) => version.length));
  const rows = Math.max(1, rowsNeeded(peaks, labels, width));
  const extent = upright
    ? Math.max(...versions.map(([text]) => textWidth(text!, look.labelSize))) + 12
    : rows * (textHeight(lines, look.labelSize) + 6) + 4;
  const down = peaks.some(({ peak }) => peak.direction === 'down');
  return { labels, upright, strip: extent, margin: down ? (upright ? extent : 48) : 14 };
}

function rowsNeeded(peaks: readonly PeakShape[], labels: LabelSetting['labels'], width: number): number {
  let total = 0;
  for (const shape of peaks) {
    const lines = peakVersions(shape, labels, false)[0]!;
    total += Math.max(...lines.map((text) => textWidth(text, look.labelSize))) + 12;
  }
  return Math.ceil((1.35 * total) / width);
}

/** Places the labels of one view: the tallest peaks first, then what was set apart. */
export function chromatogramLabels(
  model: ChromatogramModel,
  peaks: readonly PeakShape[],
  bands: readonly Band[],
  frame: PanelFrame,
  strip: number,
  { labels, upright }: LabelSetting,
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
    versions: peakVersions(shape, labels, upright),
  }));
  for (const band of bands) {
    const at = Math.min(Math.max(place(x, band.at), left), right);
    requests.push({ x: at, y: top, side: 'above', versions: [[band.kind]] });
  }
  const field = {
    bounds: { left: left + 2, right: right + 18, top: top - strip, bottom: bottom - 4 },
    upper,
    lower,
    taken: [],
    upright,
    fontSize: look.labelSize,
  };
  const placed = placeLabels(requests, field).map((label): DrawnLabel => ({
    ...label,
    about: label.index < ordered.length ? 'peak' : 'set apart',
  }));
  const missing = ordered.length - placed.filter(({ about }) => about === 'peak').length;
  return { placed, missing };
}

function peakVersions({ peak }: PeakShape, labels: LabelSetting['labels'], upright: boolean): string[][] {
  const time = peak.retentionTime.toFixed(2);
  if (labels === 'time' || peak.name === undefined || peak.name.trim() === '') return [[time]];
  const name = fitText(peak.name, look.labelSize, upright ? 160 : 280);
  return [upright ? [`${time}  ${name}`] : [name, time], [time]];
}

/** Labels and leaders as markup. */
export function labelMarks(labels: readonly DrawnLabel[], upright: boolean): Markup {
  const leaders = labels.flatMap(({ leader }) =>
    leader === undefined ? [] : [markup`<path d="M${leader[0]} ${leader[1]}L${leader[2]} ${leader[3]}"/>`],
  );
  const texts = labels.map(({ lines, box, about, align }) => {
    const x = align === 'start' ? box.left : align === 'end' ? box.right : (box.left + box.right) / 2;
    const rows = lines.map((line, i) => {
      if (upright) {
        const foot = (box.left + box.right) / 2 + 0.35 * look.labelSize;
        return markup`<tspan x="${foot}" y="${box.bottom}">${line}</tspan>`;
      }
      const baseline = box.top + look.labelSize * (0.82 + 1.16 * i);
      return markup`<tspan x="${x}" y="${baseline}">${line}</tspan>`;
    });
    if (upright) {
      const foot = (box.left + box.right) / 2 + 0.35 * look.labelSize;
      const turn = `rotate(-90 ${coordinate(foot)} ${coordinate(box.bottom)})`;
      return about === 'peak'
        ? markup`<text class="label" transform="${turn}" fill="${look.ink}">${rows}</text>`
        : markup`<text class="label" transform="${turn}" fill="${look.apart}" font-style="italic">${rows}</text>`;
    }
    return about === 'peak'
      ? markup`<text class="label" text-anchor="${align}" fill="${look.ink}">${rows}</text>`
      : markup`<text class="label" text-anchor="${align}" fill="${look.apart}" font-style="italic">${rows}</text>`;
  });
  return markup`<g class="labels" font-size="${look.labelSize}"><g fill="none" stroke="${look.muted}" stroke-width="0.9">${leaders}</g><g stroke="${look.paper}" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke">${texts}</g></g>`;
}
