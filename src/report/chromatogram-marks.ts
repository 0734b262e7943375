import type { ChromatogramModel, PeakShape } from './chromatogram-model.js';
import type { LegendEntry } from './legend.js';
import { circle, mark, rectangle, tip } from './look.js';
import { markup, type Markup } from './markup.js';
import { pathAlong, place, type Scale } from './scale.js';

/** A view of a run: what was set apart, areas with baselines and limits, signal. */
export function chromatogramMarks({ bands, peaks, line, rejected }: ChromatogramModel, x: Scale, y: Scale): Markup[] {
  return [
    ...bands.map(({ kind, evidence, start, end }) => {
      const left = place(x, start);
      const frame = rectangle(left, y.end, Math.max(3, place(x, end) - left), y.start - y.end);
      return mark('set-apart', frame, `${kind}: ${evidence}`);
    }),
    ...peaks.map((shape) => peakMark(shape, x, y)),
    mark('signal', markup`${line.map((points) => pathAlong(points, x, y))}`),
    ...rejected.map(({ at, text }) => mark('rejected', circle(place(x, at[0]), place(y, at[1]), 5), text)),
  ];
}

/** The area between signal and baseline, the baseline, and both limits. */
function peakMark({ peak, order, signal, base }: PeakShape, x: Scale, y: Scale): Markup {
  /**
   * A short upright tick across the baseline, joined to the signal where the two
   * are apart (a drop line). A limit set by hand stands on a foot; one where the
   * record was cut off is dotted. One outside the window lies outside the view.
   */
  const limit = (time: number, kind: string, end: 0 | -1): Markup => {
    const foot = place(y, base.at(end)![1]);
    const head = place(y, signal.at(end)![1]);
    const tick = markup`M${place(x, time)} ${Math.min(foot - 6, head)}V${Math.max(foot + 6, head)}`;
    const byHand = kind === 'by hand' ? 'm-5 0h10' : '';
    return mark(kind === 'cut off' ? 'limit cut-off' : 'limit', markup`${tick}${byHand}`, kind);
  };
  const outline = markup`${pathAlong([base[0]!, ...signal, ...base.toReversed()], x, y)}Z`;
  return markup`<g class="peak" data-peak="${peak.id}">${tip(peak.decisions.map(({ text }) => text).join(' '))}${[
    mark(order % 2 === 0 ? 'area' : 'area hatched', outline),
    mark('baseline', pathAlong(base, x, y)),
    limit(peak.start, peak.startKind, 0),
    limit(peak.end, peak.endKind, -1),
  ]}</g>
`;
}

/** What the lines and patterns mean; only those the picture shows. */
export function chromatogramLegend({ peaks, bands, rejected }: ChromatogramModel): LegendEntry[] {
  const stroke = markup`M0 0h26`;
  const areas = [mark('area', rectangle(0, -7, 13, 13)), mark('area hatched', rectangle(13, -7, 13, 13))];
  return [
    ['signal', [mark('signal', stroke)]],
    ['baseline used', [mark('baseline', stroke)], peaks.length > 0],
    ['area integrated', areas, peaks.length > 0],
    ['set apart', [mark('set-apart', rectangle(0, -7, 26, 13))], bands.length > 0],
    ['not taken as a peak', [mark('rejected', circle(18, 0, 5))], rejected.length > 0],
  ];
}
