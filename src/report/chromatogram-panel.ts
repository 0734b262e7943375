import type { Band, ChromatogramModel, PeakShape } from './chromatogram-model.js';
import { look } from './look.js';
import { markup, type Markup } from './markup.js';
import { peakLimits, peakTitle } from './peak-marks.js';
import { areaPath, linePath } from './paths.js';
import type { PanelFrame } from './panel-frame.js';
import { place } from './scale.js';

/** A rejected candidate as it is drawn. */
export interface RejectedMark {
  /** [min] Where. */
  readonly at: number;
  /** [signal unit] Level of the signal there. */
  readonly level: number;
  /** Why it was rejected. */
  readonly text: string;
}

/** The drawn part of a view: bands, areas, baselines, limits, signal; cut at the frame. */
export function panelBody(
  model: ChromatogramModel,
  frame: PanelFrame,
  units: { readonly signal: string; readonly area: string },
  rejected: readonly RejectedMark[],
): Markup {
  const { left, right, top, bottom } = frame;
  const bands = model.bands.map((band) => bandMark(band, frame));
  const areas = model.peaks.map((shape) => areaMark(shape, frame, units));
  const baselines = model.baselines.map(
    (piece) =>
      markup`<path class="baseline" d="${linePath([piece], frame.x, frame.y)}" stroke="${look.baseline}" stroke-width="1.4" stroke-dasharray="7 3"/>`,
  );
  const limits = model.peaks.map((shape) => peakLimits(shape, frame));
  const circles = rejected.map(
    (candidate) =>
      markup`<circle cx="${place(frame.x, candidate.at)}" cy="${place(frame.y, candidate.level)}" r="5"><title>${candidate.text}</title></circle>`,
  );
  return markup`<svg x="${left}" y="${top}" width="${right - left}" height="${bottom - top}" viewBox="${left} ${top} ${right - left} ${bottom - top}" overflow="hidden">
<g class="set-apart">${bands}</g>
<g class="areas">${areas}</g>
<g class="baselines" fill="none">${baselines}</g>
<path class="signal" d="${linePath(model.line, frame.x, frame.y)}" fill="none" stroke="${look.ink}" stroke-width="${dense(model, frame) ? 1 : 1.5}" stroke-linejoin="round"/>
<g class="limits" fill="none" stroke="${look.ink}" stroke-width="1.3">${limits}</g>
<g class="rejected" fill="${look.paper}" stroke="${look.ink}" stroke-width="1.3">${circles}</g>
</svg>`;
}

/** Whether the signal goes up and down so much that a full stroke would run together. */
function dense(model: ChromatogramModel, frame: PanelFrame): boolean {
  let travel = 0;
  for (const { value } of model.line) {
    for (let i = 1; i < value.length; i++) travel += Math.abs(value[i]! - value[i - 1]!);
  }
  const scale = Math.abs((frame.y.end - frame.y.start) / (frame.y.to - frame.y.from));
  return travel * scale > 9 * (frame.right - frame.left);
}

function areaMark(
  shape: PeakShape,
  frame: PanelFrame,
  units: { readonly signal: string; readonly area: string },
): Markup {
  const path = areaPath(shape.signal, shape.base, frame.x, frame.y);
  const dark = shape.order % 2 === 1;
  const hatch = dark ? markup`<path d="${path}" fill="url(#${frame.prefix}hatch)"/>` : undefined;
  return markup`<g class="peak" data-peak="${shape.peak.id}"><title>${peakTitle(shape.peak, units)}</title><path class="area" d="${path}" fill="${dark ? look.areaDark : look.areaLight}"/>${hatch}</g>`;
}

function bandMark(band: Band, frame: PanelFrame): Markup {
  const start = place(frame.x, band.start);
  const width = Math.max(3, place(frame.x, band.end) - start);
  return markup`<g><title>${`${band.kind}: ${band.evidence}`}</title><rect x="${start}" y="${frame.top}" width="${width}" height="${frame.bottom - frame.top}" fill="url(#${frame.prefix}dots)" fill-opacity="0.6"/><path d="M${start} ${frame.top}V${frame.bottom}M${start + width} ${frame.top}V${frame.bottom}" fill="none" stroke="${look.apart}" stroke-width="1" stroke-dasharray="1.5 3"/></g>`;
}

/** The patterns of one document: hatching for every other area, dots for what is set apart. */
export function patterns(prefix: string): Markup {
  return markup`<defs><pattern id="${prefix}hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M3 0V6" stroke="${look.areaHatch}" stroke-width="1.2"/></pattern><pattern id="${prefix}dots" width="6" height="6" patternUnits="userSpaceOnUse"><circle cx="1.5" cy="1.5" r="0.9" fill="${look.apart}"/><circle cx="4.5" cy="4.5" r="0.9" fill="${look.apart}"/></pattern></defs>`;
}
