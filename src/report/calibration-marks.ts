import type { Calibration } from '../calibration/index.js';
import { bandAt, lineAt, type CalibrationModel, type ShownUnknown } from './calibration-model.js';
import type { LegendEntry } from './legend.js';
import { circle, mark, rectangle } from './look.js';
import { markup, type Markup } from './markup.js';
import { significantNumber } from './number-text.js';
import { hold, pathAlong, place, type Point, type Scale } from './scale.js';

/** Corners of an edge of the confidence band, above (1) or below (-1) the line; the line itself for 0. */
export function edgeOf(calibration: Calibration, [from, to]: readonly [number, number], sign: 1 | 0 | -1): Point[] {
  return Array.from({ length: 49 }, (_, i): Point => {
    const amount = from + ((to - from) * i) / 48;
    return [amount, lineAt(calibration, amount) + sign * bandAt(calibration, amount)];
  });
}

/** The line, full within the range of the standards and dashed beyond it, in its confidence band. */
export function lineMarks(calibration: Calibration, { amounts }: CalibrationModel, x: Scale, y: Scale): Markup[] {
  const edges = [...edgeOf(calibration, amounts, 1), ...edgeOf(calibration, amounts, -1).toReversed()];
  return [
    mark('band', pathAlong(edges, x, y)),
    mark('extended', pathAlong(edgeOf(calibration, amounts, 0), x, y)),
    mark('line', pathAlong(edgeOf(calibration, calibration.range, 0), x, y)),
  ];
}

/** The points and what was read from the line. */
export function pointMarks(model: CalibrationModel, x: Scale, y: Scale): Markup[] {
  return [
    ...model.unknowns.flatMap((unknown) => unknownMarks(unknown, model, x, y)),
    ...model.points.map(({ amount, response, reason }) => dot(place(x, amount), place(y, response), reason)),
  ];
}

/** Residuals as stems from zero; one beyond the view is held at its edge. */
export function residualMarks({ points }: CalibrationModel, x: Scale, y: Scale): Markup[] {
  const zero = place(y, 0);
  const stems = points.flatMap(({ amount, residual, reason }) => {
    const at = place(x, amount);
    const end = hold(place(y, residual), y.end + 6, y.start - 6);
    return [mark('leader', markup`M${at} ${zero}V${end}`), dot(at, end, reason)];
  });
  return [mark('line', markup`M${x.start} ${zero}H${x.end}`), ...stems];
}

/** From the response across, down to the amount, and a bar over the interval on the axis. */
function unknownMarks(unknown: ShownUnknown, model: CalibrationModel, x: Scale, y: Scale): Markup[] {
  const marks = [mark('reading', pathAlong(wayOf(unknown, model), x, y))];
  const { quantity, response } = unknown;
  if (quantity === undefined) return marks;
  const { interval, value, unit } = quantity;
  if (interval !== undefined) {
    const ends = [interval.from, interval.to] as const;
    const [from, to] = ends.map((end) => hold(place(x, end), x.start, x.end));
    const title = `${ends.map((end) => significantNumber(end, 5)).join(' to ')} ${unit}`;
    marks.push(mark('interval', bracket(from!, to!, y.start), title));
  }
  return [...marks, mark('result', circle(place(x, value), place(y, response), 5))];
}

/** Where the dotted line of an unknown runs. */
export function wayOf({ response, quantity }: ShownUnknown, { amounts, responses }: CalibrationModel): Point[] {
  const corner = quantity?.value ?? amounts[1];
  return [[amounts[0], response], [corner, response], ...(quantity ? [[corner, responses[0]] as const] : [])];
}

/** A filled circle, or a hollow crossed one for a point left out. */
function dot(x: number, y: number, reason?: string): Markup {
  if (reason === undefined) return mark('point', circle(x, y, 4.5));
  return mark('point left-out', markup`${circle(x, y, 5.5)}M${x - 3} ${y - 3}l6 6m0-6l-6 6`, reason);
}

/** A bar with ends. */
function bracket(from: number, to: number, y: number): Markup {
  return markup`M${from} ${y}v-6v12v-6H${to}v-6v12`;
}

/** What the marks mean; only those the picture shows. */
export function calibrationLegend(
  { confidence, excluded }: Calibration,
  { unknowns }: CalibrationModel,
): LegendEntry[] {
  const band = [mark('band', rectangle(0, -6, 26, 12)), mark('line', markup`M0 0h26`)];
  return [
    ['standard', [dot(18, 0)]],
    [`line, ${Number((100 * confidence).toFixed(3))} % band of the line`, band],
    ['left out', [dot(18, 0, '')], excluded.length > 0],
    ['unknown with its interval', [mark('interval', bracket(0, 26, 0))], unknowns.length > 0],
  ];
}
