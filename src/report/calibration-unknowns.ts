import { intervalBar } from './calibration-marks.js';
import type { CalibrationModel, ShownUnknown } from './calibration-model.js';
import { baselineColour, paper } from './look.js';
import { coordinate, markup, type Markup } from './markup.js';
import { significantNumber } from './number-text.js';
import type { LabelRequest } from './place-labels.js';
import { hold, pathAlong, place, type Point, type Scale } from './scale.js';
import { shape, stroke, tip } from './shapes.js';

/** From the response across, down to the amount, and a bar over the interval on the axis. */
export function unknownMark(unknown: ShownUnknown, model: CalibrationModel, x: Scale, y: Scale): Markup {
  const { name, text, quantity, response, reason } = unknown;
  const lines = [name, text, ...(reason === undefined ? [] : [reason])];
  const parts = [stroke(pathAlong(wayOf(unknown, model), x, y), baselineColour, 1.4, '3 3')];
  if (quantity?.interval !== undefined) {
    const { from, to, method } = quantity.interval;
    lines.push(`interval ${significantNumber(from, 5)} to ${significantNumber(to, 5)} ${quantity.unit} (${method})`);
    const end = (value: number): number => hold(place(x, value), x.start, x.end);
    parts.push(intervalBar(end(from), end(to), y.start));
  }
  if (quantity !== undefined) {
    const corner = `M${coordinate(place(x, quantity.value) - 6)} ${coordinate(place(y, response))}`;
    parts.push(shape(`${corner}l6-6l6 6l-6 6z`, paper, baselineColour, 1.8));
  }
  return markup`<g class="unknown">${tip(lines.join('\n'))}${parts}</g>`;
}

/** Name and amount of an unknown, at its place. */
export function unknownLabel(
  { name, text, quantity, response }: ShownUnknown,
  { amounts }: CalibrationModel,
): LabelRequest {
  return { x: quantity?.value ?? (amounts[0] + amounts[1]) / 2, y: response, versions: [[name, text], [text]] };
}

/** Where the dotted line of an unknown runs. */
export function wayOf({ response, quantity }: ShownUnknown, { amounts, responses }: CalibrationModel): Point[] {
  const way: Point[] = [[amounts[0], response]];
  if (quantity === undefined) return [...way, [amounts[1], response]];
  return [...way, [quantity.value, response], [quantity.value, responses[0]]];
}
