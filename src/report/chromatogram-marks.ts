import type { Analysis, Peak } from '../analysis/index.js';
import type { ChromatogramModel, PeakShape } from './chromatogram-model.js';
import type { LegendEntry } from './legend.js';
import { apart, areaDark, areaHatch, areaLight, baselineColour, ink, muted, paper } from './look.js';
import { coordinate, markup, type Markup } from './markup.js';
import { significantNumber } from './number-text.js';
import { pathAlong, place, type Point, type Scale } from './scale.js';
import { circle, rectangle, shape, stroke, tip } from './shapes.js';

/** A view of a run: what was set apart, areas with baselines and limits, signal. */
export function chromatogramMarks(
  model: ChromatogramModel,
  units: Analysis['units'],
  prefix: string,
  x: Scale,
  y: Scale,
): Markup[] {
  const bands = model.bands.map(({ kind, evidence, start, end }) => {
    const left = place(x, start);
    const width = Math.max(3, place(x, end) - left);
    const frame = rectangle(left, y.end, width, y.start - y.end);
    return shape(frame, `url(#${prefix}dots)`, apart, 1, '1.5 3', 'set-apart', `${kind}: ${evidence}`);
  });
  const line = model.line.map((points) => pathAlong(points, x, y)).join('');
  return [
    ...bands,
    ...model.peaks.map((shape) => peakMark(shape, units, prefix, x, y)),
    ...model.curves.map((points) => stroke(pathAlong(points, x, y), muted, 1.2, '1.5 2.5', 'curve')),
    stroke(line, ink, 1.3, 'none', 'signal'),
    ...model.rejected.map(({ at: [time, level], text }) => hollow(place(x, time), place(y, level), text)),
  ];
}

/** The area between signal and baseline, the baseline, and those limits that lie in the window. */
function peakMark(
  { peak, order, signal, base }: PeakShape,
  units: Analysis['units'],
  prefix: string,
  x: Scale,
  y: Scale,
): Markup {
  const dark = order % 2 === 1;
  const outline = `${pathAlong([base[0]!, ...signal, ...base.toReversed()], x, y)}Z`;
  /**
   * A short upright tick across the baseline, joined to the signal where the two
   * are apart (a drop line). A limit set by hand stands on a foot; one where the
   * record was cut off is dotted.
   */
  const limit = (time: number, kind: Peak['startKind'], foot: Point, head: Point = foot): Markup[] => {
    if (foot[0] !== time) return [];
    const [low, high] = [place(y, foot[1]), place(y, head[1])];
    const tick = `M${coordinate(place(x, time))} ${coordinate(Math.min(low - 6, high))}V${coordinate(Math.max(low + 6, high))}`;
    const path = kind === 'by hand' ? `${tick}m-5 0h10` : tick;
    const dashes = kind === 'cut off' ? '2 2.5' : 'none';
    return [stroke(path, ink, 1.3, dashes, 'limit', `${kind} at ${time.toFixed(4)} min`)];
  };
  const parts = [
    shape(outline, dark ? areaDark : areaLight, 'none', 0, 'none', 'area'),
    ...(dark ? [shape(outline, `url(#${prefix}hatch)`)] : []),
    stroke(pathAlong(base, x, y), baselineColour, 1.4, '7 3', 'baseline'),
    ...limit(peak.start, peak.startKind, base[0]!, signal[0]),
    ...limit(peak.end, peak.endKind, base.at(-1)!, signal.at(-1)),
  ];
  return markup`<g class="peak" data-peak="${peak.id}">${tip(peakTitle(peak, units))}${parts}</g>
`;
}

/** What a reader sees on pointing at a peak: its numbers and why it was cut where it was. */
function peakTitle(peak: Peak, units: Analysis['units']): string {
  return [
    peak.name ?? `peak ${peak.id}`,
    `retention time ${peak.retentionTime.toFixed(3)} min`,
    `area ${significantNumber(peak.area, 5)} ${units.area}`,
    `height ${significantNumber(peak.height, 4)} ${units.signal}`,
    `from ${peak.start.toFixed(3)} min (${peak.startKind}) to ${peak.end.toFixed(3)} min (${peak.endKind})`,
    ...peak.decisions.map(({ text }) => text),
    ...peak.warnings.map(({ message }) => message),
  ].join('\n');
}

function hollow(x: number, y: number, title = ''): Markup {
  return shape(circle(x, y, 5), paper, ink, 1.3, 'none', 'rejected', title);
}

/** The patterns of one document: hatching for every other area, dots for what is set apart. */
export function patterns(prefix: string): Markup {
  const pattern = (name: string, turn: number, content: Markup): Markup =>
    markup`<pattern id="${prefix}${name}" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(${turn})">${content}</pattern>`;
  const dots = stroke('M1 1h1m2 3h1', apart, 1.3);
  return markup`<defs>${pattern('hatch', 45, stroke('M3 0V6', areaHatch, 1.2))}${pattern('dots', 0, dots)}</defs>`;
}

/** What the lines and patterns mean; only those the picture shows. */
export function chromatogramLegend(
  { peaks, curves, bands, rejected }: ChromatogramModel,
  prefix: string,
): LegendEntry[] {
  const entries: LegendEntry[] = [['signal', stroke('M0 0h26', ink, 1.5)]];
  if (peaks.length > 0) {
    const dark = rectangle(13, -7, 13, 13);
    const areas = [
      shape(rectangle(0, -7, 13, 13), areaLight),
      shape(dark, areaDark),
      shape(dark, `url(#${prefix}hatch)`),
    ];
    entries.push(
      ['baseline used', stroke('M0 0h26', baselineColour, 1.4, '7 3')],
      ['area integrated', markup`${areas}`],
    );
  }
  if (curves.length > 0) entries.push(['curves that divide it', stroke('M0 0h26', muted, 1.2, '1.5 2.5')]);
  if (bands.length > 0) entries.push(['set apart', shape(rectangle(0, -7, 26, 13), `url(#${prefix}dots)`)]);
  if (rejected.length > 0) entries.push(['not taken as a peak', hollow(18, 0)]);
  return entries;
}
