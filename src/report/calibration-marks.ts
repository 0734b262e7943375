import type { Calibration, FittedPoint } from '../calibration/index.js';
import { bandAt, lineAt } from './calibration-model.js';
import { significantNumber } from './axis-ticks.js';
import { look } from './look.js';
import { coordinate, markup, type Markup } from './markup.js';
import { place, type Scale } from './scale.js';

/** Where the two panels lie and how they are scaled. */
export interface CalibrationFrame {
  /** [px] Left edge of both. */
  readonly left: number;
  /** [px] Right edge of both. */
  readonly right: number;
  /** [px] Upper edge of the responses. */
  readonly top: number;
  /** [px] Lower edge of the responses. */
  readonly middle: number;
  /** [px] Upper edge of the residuals. */
  readonly lower: number;
  /** [px] Lower edge of the residuals. */
  readonly bottom: number;
  /** Amounts. */
  readonly amount: Scale;
  /** Responses. */
  readonly response: Scale;
  /** Residuals. */
  readonly residual: Scale;
}

/** The confidence band of the line, cut at the frame. */
export function bandMark(calibration: Calibration, frame: CalibrationFrame): Markup {
  const { amount, left, right, top, middle } = frame;
  const steps = 48;
  const edge = (sign: 1 | -1): string[] =>
    Array.from({ length: steps + 1 }, (_, i) => {
      const x = amount.from + ((amount.to - amount.from) * i) / steps;
      const y = lineAt(calibration, x) + sign * bandAt(calibration, x);
      return `${coordinate(place(amount, x))} ${coordinate(place(frame.response, y))}`;
    });
  const upper = edge(1);
  const under = edge(-1);
  return markup`<svg x="${left}" y="${top}" width="${right - left}" height="${middle - top}" viewBox="${left} ${top} ${right - left} ${middle - top}" overflow="hidden"><g class="band"><path d="${`M${upper.join('L')}L${under.toReversed().join('L')}Z`}" fill="${look.areaLight}"/><path d="${`M${upper.join('L')}M${under.join('L')}`}" fill="none" stroke="${look.areaHatch}" stroke-dasharray="2 3"/></g></svg>`;
}

/** The line: full within the range of the standards, dashed beyond it. */
export function lineMark(calibration: Calibration, { amount, response }: CalibrationFrame): Markup {
  const [low, high] = calibration.range;
  const at = (x: number): string =>
    `${coordinate(place(amount, x))} ${coordinate(place(response, lineAt(calibration, x)))}`;
  return markup`<g class="line" fill="none" stroke="${look.ink}" stroke-width="1.5"><path d="${`M${at(low)}L${at(high)}`}"/><path d="${`M${at(amount.from)}L${at(low)}M${at(high)}L${at(amount.to)}`}" stroke-dasharray="6 4" stroke-width="1.1"/></g>`;
}

/** The points; those left out hollow and crossed. */
export function pointMarks(calibration: Calibration, { amount, response }: CalibrationFrame): Markup[] {
  const mark = (point: FittedPoint, reason?: string): Markup =>
    dot(place(amount, point.amount), place(response, point.response), pointTitle(calibration, point, reason), reason);
  return [
    ...calibration.excluded.map((point) => mark(point, point.reason)),
    ...calibration.points.map((point) => mark(point)),
  ];
}

/** Residuals as stems from zero, with one residual standard deviation either side dotted. */
export function residualMarks(calibration: Calibration, frame: CalibrationFrame): Markup[] {
  const { amount, residual, left, right, lower, bottom } = frame;
  const zero = place(residual, 0);
  const s = calibration.residualStandardDeviation;
  const level = (value: number): Markup =>
    markup`<path d="M${left} ${place(residual, value)}H${right}" stroke="${look.muted}" stroke-dasharray="1.5 4"/>`;
  const stem = (point: FittedPoint, reason?: string): Markup => {
    const x = place(amount, point.amount);
    const y = Math.min(Math.max(place(residual, point.residual), lower + 6), bottom - 6);
    return markup`<path d="M${x} ${zero}V${y}" stroke="${look.muted}"/>${dot(x, y, pointTitle(calibration, point, reason), reason)}`;
  };
  return [
    ...(s > 0 ? [level(s), level(-s)] : []),
    markup`<path d="M${left} ${zero}H${right}" stroke="${look.ink}" stroke-width="1.2"/>`,
    ...calibration.excluded.map((point) => stem(point, point.reason)),
    ...calibration.points.map((point) => stem(point)),
  ];
}

/** A filled circle, or a hollow crossed one for a point left out. */
export function dot(x: number, y: number, title: string, reason: string | undefined): Markup {
  return reason === undefined
    ? markup`<circle class="point" cx="${x}" cy="${y}" r="4.5" fill="${look.ink}" stroke="${look.paper}" stroke-width="1"><title>${title}</title></circle>`
    : markup`<g class="left-out" fill="${look.paper}" stroke="${look.ink}" stroke-width="1.3"><title>${title}</title><circle cx="${x}" cy="${y}" r="5.5"/><path d="M${x - 3} ${y - 3}l6 6M${x + 3} ${y - 3}l-6 6"/></g>`;
}

function pointTitle({ units }: Calibration, point: FittedPoint, reason: string | undefined): string {
  const lines = [
    point.injection ?? point.level ?? `point ${point.row}`,
    `${significantNumber(point.amount, 5)} ${units.amount}`,
    `response ${significantNumber(point.response, 6)} ${units.response}, line ${significantNumber(point.fitted, 6)} ${units.response}`,
    `residual ${significantNumber(point.residual, 3)} ${units.response}`,
  ];
  return [...lines, ...(reason === undefined ? [] : [`left out: ${reason}`])].join('\n');
}
