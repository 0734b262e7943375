import type { Calibration } from '../calibration/index.js';
import { significantNumber } from './axis-ticks.js';
import type { CalibrationFrame } from './calibration-marks.js';
import { bandAt, lineAt, type CalibrationModel, type ShownUnknown } from './calibration-model.js';
import type { DrawnLabel } from './chromatogram-labels.js';
import { look } from './look.js';
import { markup, type Markup } from './markup.js';
import { valueWithUncertainty } from './number-text.js';
import { placeLabels, type Box, type LabelRequest } from './place-labels.js';
import { place } from './scale.js';

/** From the response across, down to the amount, and a bar over the interval on the axis. */
export function unknownMarks(model: CalibrationModel, frame: CalibrationFrame): Markup {
  const { left, right, middle, amount, response } = frame;
  const hold = (x: number): number => Math.min(Math.max(x, left), right);
  const marks = model.unknowns.map((unknown) => {
    const y = place(response, unknown.response);
    const { quantity } = unknown;
    if (quantity === undefined) {
      return markup`<g class="unknown"><title>${titleOf(unknown)}</title><path d="M${left} ${y}H${right}" stroke-dasharray="3 3"/></g>`;
    }
    const x = place(amount, quantity.value);
    const { interval } = quantity;
    const bar =
      interval === undefined
        ? undefined
        : markup`<path d="M${hold(place(amount, interval.from))} ${middle - 7}V${middle + 7}M${hold(place(amount, interval.to))} ${middle - 7}V${middle + 7}M${hold(place(amount, interval.from))} ${middle}H${hold(place(amount, interval.to))}" stroke-width="3"/>`;
    return markup`<g class="unknown"><title>${titleOf(unknown)}</title><path d="M${left} ${y}H${x}V${middle}" stroke-dasharray="3 3"/>${bar}<rect x="${x - 4.5}" y="${y - 4.5}" width="9" height="9" transform="rotate(45 ${x} ${y})" fill="${look.paper}" stroke-width="1.8"/></g>`;
  });
  return markup`<g class="unknowns" fill="none" stroke="${look.baseline}" stroke-width="1.4">${marks}</g>`;
}

/** Names and amounts of the unknowns, clear of the line, the band, the points and each other. */
export function unknownLabels(
  calibration: Calibration,
  model: CalibrationModel,
  frame: CalibrationFrame,
): DrawnLabel[] {
  const { left, right, top, middle, amount, response } = frame;
  const requests: LabelRequest[] = model.unknowns.map(({ name, response: level, quantity }) => ({
    x: quantity === undefined ? (left + right) / 2 : place(amount, quantity.value),
    y: place(response, level),
    side: 'above',
    versions: [[name, quantityText(quantity)], [quantityText(quantity)]],
  }));
  const columns = Math.ceil(right - left);
  const upper = new Float64Array(columns);
  for (let column = 0; column < columns; column++) {
    const x = amount.from + ((amount.to - amount.from) * column) / columns;
    const y = place(response, lineAt(calibration, x) + bandAt(calibration, x));
    upper[column] = Math.min(Math.max(y - 2, top), middle);
  }
  const points = [...calibration.points, ...calibration.excluded].map((point): Box => {
    const x = place(amount, point.amount);
    const y = place(response, point.response);
    return { left: x - 6, right: x + 6, top: y - 6, bottom: y + 6 };
  });
  const bounds = { left: left + 4, right, top: top - 6, bottom: middle - 12 };
  const lower = new Float64Array(columns).fill(top);
  const field = { bounds, upper, lower, taken: points, upright: false, fontSize: look.labelSize };
  return placeLabels(requests, field).map((label): DrawnLabel => ({ ...label, about: 'peak' }));
}

function quantityText(quantity: ShownUnknown['quantity']): string {
  return quantity === undefined
    ? 'not determinable'
    : `${valueWithUncertainty(quantity.value, quantity.standardUncertainty)} ${quantity.unit}`;
}

function titleOf({ name, quantity, reason }: ShownUnknown): string {
  const { interval } = quantity ?? {};
  const lines = [name, quantityText(quantity)];
  if (interval !== undefined && quantity !== undefined) {
    lines.push(
      `interval ${significantNumber(interval.from, 5)} to ${significantNumber(interval.to, 5)} ${quantity.unit} (${interval.method})`,
    );
  }
  if (reason !== undefined) lines.push(reason);
  return lines.join('\n');
}
