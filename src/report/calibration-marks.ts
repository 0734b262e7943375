import type { Calibration } from '../calibration/index.js';
import { bandAt, lineAt, type CalibrationModel, type ShownPoint } from './calibration-model.js';
import type { LegendEntry } from './legend.js';
import { areaHatch, areaLight, baselineColour, ink, muted, paper } from './look.js';
import { coordinate, markup, type Markup } from './markup.js';
import { hold, pathAlong, place, type Point, type Scale } from './scale.js';
import { circle, rectangle, shape, stroke } from './shapes.js';

/** Corners of an edge of the confidence band, above (1) or below (-1) the line; the line itself for 0. */
export function edgeOf(calibration: Calibration, [from, to]: readonly [number, number], sign: 1 | 0 | -1): Point[] {
  return Array.from({ length: 49 }, (_, i): Point => {
    const amount = from + ((to - from) * i) / 48;
    return [amount, lineAt(calibration, amount) + sign * bandAt(calibration, amount)];
  });
}

/** The line, full within the range of the standards and dashed beyond it, in its confidence band. */
export function lineMarks(calibration: Calibration, { amounts }: CalibrationModel, x: Scale, y: Scale): Markup[] {
  const path = (range: readonly [number, number]): string => pathAlong(edgeOf(calibration, range, 0), x, y);
  const edges = [...edgeOf(calibration, amounts, 1), ...edgeOf(calibration, amounts, -1).toReversed()];
  return [
    shape(pathAlong(edges, x, y), areaLight, areaHatch, 1, '2 3'),
    stroke(path(amounts), ink, 1, '6 4'),
    stroke(path(calibration.range), ink, 1.5),
  ];
}

/** The points; those left out hollow and crossed. */
export function pointMarks({ points }: CalibrationModel, x: Scale, y: Scale): Markup {
  const dots = points.map((point) => dot(place(x, point.amount), place(y, point.response), point));
  return markup`<g class="points">${dots}</g>`;
}

/** Residuals as stems from zero, with one residual standard deviation either side dotted. */
export function residualMarks(calibration: Calibration, { points }: CalibrationModel, x: Scale, y: Scale): Markup {
  const s = calibration.residualStandardDeviation;
  const level = (value: number): string => `M${x.start} ${coordinate(place(y, value))}H${x.end}`;
  const stems = points.map((point) => {
    const at = place(x, point.amount);
    const end = hold(place(y, point.residual), y.end + 6, y.start - 6);
    const stem = stroke(`M${coordinate(at)} ${coordinate(place(y, 0))}V${coordinate(end)}`, muted);
    return markup`${stem}${dot(at, end, point)}`;
  });
  return markup`<g class="residuals">${stroke(level(s) + level(-s), muted, 1, '1.5 4')}${stroke(level(0), ink)}${stems}</g>`;
}

/** A filled circle, or a hollow crossed one for a point left out. */
function dot(
  x: number,
  y: number,
  { reason, title = '' }: Pick<ShownPoint, 'reason'> & { readonly title?: string },
): Markup {
  if (reason === undefined) return shape(circle(x, y, 4.5), ink, paper, 1, 'none', 'point', title);
  const cross = `M${coordinate(x - 3)} ${coordinate(y - 3)}l6 6m0-6l-6 6`;
  return shape(circle(x, y, 5.5) + cross, paper, ink, 1.3, 'none', 'left-out', title);
}

/** What the marks mean; only those the picture shows. */
export function calibrationLegend({ confidence, excluded }: Calibration, unknowns: boolean): LegendEntry[] {
  const band = markup`${[shape(rectangle(0, -6, 26, 12), areaLight), stroke('M0 0h26', ink, 1.5)]}`;
  const entries: LegendEntry[] = [
    ['standard', dot(18, 0, {})],
    [`line, ${Number((100 * confidence).toFixed(3))} % band of the line`, band],
  ];
  if (excluded.length > 0) entries.push(['left out', dot(18, 0, { reason: '' })]);
  if (unknowns) entries.push(['unknown with its interval', intervalBar(0, 26, 0)]);
  return entries;
}

/** A bar with ends. */
export function intervalBar(from: number, to: number, y: number): Markup {
  const [left, right, middle] = [from, to, y].map(coordinate);
  return stroke(`M${left} ${middle}v-6v12v-6H${right}v-6v12`, baselineColour, 3);
}
