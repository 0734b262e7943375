import type { Calibration, Prediction } from '../calibration/index.js';
import { failOption, resolveOptions } from '../core/index.js';
import { axisRoom, axisTitle, levelAxis, ticksOf, uprightAxis } from './axes.js';
import { calibrationModel, shownUnknowns } from './calibration-model.js';
import { bandMark, lineMark, pointMarks, residualMarks, type CalibrationFrame } from './calibration-marks.js';
import { unknownLabels, unknownMarks } from './calibration-unknowns.js';
import { calibrationDescription, calibrationSubtitle, calibrationTitle } from './calibration-words.js';
import { calibrationLegend } from './calibration-legend.js';
import { labelMarks } from './chromatogram-labels.js';
import { look } from './look.js';
import { markup, markupText } from './markup.js';
import { headingHeight, svgDocument } from './svg-document.js';
import { joinParts } from './text-width.js';

/**
 * Options of {@link renderCalibration}.
 *
 * @public
 */
export interface CalibrationPictureOptions {
  /**
   * Unknowns read from this calibration, shown with their interval.
   *
   * @defaultValue []
   */
  readonly unknowns?: readonly {
    /** Name. */
    readonly name: string;
    /** From {@link predictAmount} with this calibration. */
    readonly prediction: Prediction;
  }[];
  /**
   * [px] Width of the picture, 320 to 8000.
   *
   * @defaultValue 760
   */
  readonly width?: number;
  /**
   * [px] Height of the picture, 400 to 8000.
   *
   * @defaultValue 680
   */
  readonly height?: number;
}

const defaults: Required<CalibrationPictureOptions> = { unknowns: [], width: 760, height: 680 };

/**
 * Draws a calibration as SVG: the points, the line with its confidence band,
 * what was read from it, and the residuals below on the same axis.
 *
 * The equation stands above with its standard uncertainties. The band is that of
 * the line at the confidence of the calibration, not that of single
 * measurements. Points left out are hollow and crossed, in the residuals held
 * at the edge when they lie further out. An unknown is read from its
 * response across to the line and down to its amount, where a bar shows the
 * interval.
 *
 * @param calibration - From {@link fitCalibration}; only read.
 * @param options - Unknowns and size; see {@link CalibrationPictureOptions}.
 *
 * @returns An SVG document without an XML declaration, the same text on every engine.
 *
 * @throws {@link PeakwrightError} `option-unknown`, `option-invalid`; the latter also for an unknown that was read
 *   from another calibration.
 *
 * @public
 */
export function renderCalibration(calibration: Calibration, options: CalibrationPictureOptions = {}): string {
  const { unknowns, width, height } = resolveOptions('renderCalibration', defaults, options);
  if (!(width >= 320 && width <= 8000)) failOption('renderCalibration', 'width', 'from 320 to 8000 px', width);
  if (!(height >= 400 && height <= 8000)) failOption('renderCalibration', 'height', 'from 400 to 8000 px', height);
  if (!Array.isArray(unknowns)) failOption('renderCalibration', 'unknowns', 'a list', unknowns);

  const model = calibrationModel(calibration, shownUnknowns(calibration, unknowns));
  const right = width - 30;
  const subtitle = joinParts(calibrationSubtitle(calibration), look.textSize, right - 48).slice(0, 5);
  const legend = calibrationLegend(calibration, unknowns.length > 0);
  const top = headingHeight(subtitle.length) + 26;
  const below = 44 + legend.height(48, right);
  const inner = height - top - below - 64;
  const middle = Math.round(top + 0.7 * inner);
  const lower = middle + 64;
  const bottom = lower + Math.round(0.3 * inner);

  const response = {
    from: model.responses[0],
    to: model.responses[1],
    start: middle,
    end: top + (unknowns.length > 0 ? 38 : 0),
  };
  const residual = { from: -model.residual, to: model.residual, start: bottom, end: lower };
  const responseTicks = ticksOf(response, 55);
  const residualTicks = ticksOf(residual, 36);
  const left = Math.round(Math.max(48, 14 + axisRoom(responseTicks), 14 + axisRoom(residualTicks)));
  const amount = { from: model.amounts[0], to: model.amounts[1], start: left, end: right };
  const amountTicks = ticksOf(amount, 80, true);
  const frame: CalibrationFrame = { left, right, top, middle, lower, bottom, amount, response, residual };

  const { units, responseKind, quantity } = calibration;
  const caption = (text: string, y: number): ReturnType<typeof markup> =>
    markup`<text x="${left}" y="${y}" font-size="${look.textSize}" fill="${look.muted}">${text}</text>`;
  const body = markup`${caption(axisTitle(responseKind, units.response, responseTicks), top - 12)}
${uprightAxis(responseTicks, response, left, right)}${levelAxis(amountTicks, amount, middle, false)}
${bandMark(calibration, frame)}${lineMark(calibration, frame)}
${unknownMarks(model, frame)}
<g class="points">${pointMarks(calibration, frame)}</g>
${labelMarks(unknownLabels(calibration, model, frame), false)}
${caption(axisTitle(`${responseKind} minus line`, units.response, residualTicks), lower - 12)}
${uprightAxis(residualTicks, residual, left, right)}${levelAxis(amountTicks, amount, bottom, true)}
<g class="residuals">${residualMarks(calibration, frame)}</g>
<text x="${right}" y="${bottom + 46}" text-anchor="end" font-size="${look.textSize}" fill="${look.muted}">${axisTitle(quantity, units.amount, amountTicks)}</text>
${legend.draw(left, right, bottom + 70)}`;
  return markupText(
    svgDocument({
      width,
      height,
      left,
      title: calibrationTitle(calibration),
      subtitle,
      description: calibrationDescription(calibration, model),
      body: () => body,
    }),
  );
}
