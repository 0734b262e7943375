import type { Calibration, Prediction } from '../calibration/index.js';
import { failOption, resolveOptions } from '../core/index.js';
import { checkSize } from './check-size.js';
import { calibrationLegend, edgeOf, lineMarks, pointMarks, residualMarks } from './calibration-marks.js';
import { calibrationModel, shownUnknowns } from './calibration-model.js';
import { unknownLabel, unknownMark, wayOf } from './calibration-unknowns.js';
import { calibrationDescription, calibrationSubtitle, calibrationTitle } from './calibration-words.js';
import { figure } from './figure.js';

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
 * interval. Labels cover no line; when there is no room for one, the picture says
 * how many are missing.
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
  checkSize('renderCalibration', 'width', width, 320);
  checkSize('renderCalibration', 'height', height, 400);
  if (!Array.isArray(unknowns)) failOption('renderCalibration', 'unknowns', 'a list', unknowns);

  const shown = shownUnknowns(calibration, unknowns);
  const model = calibrationModel(calibration, shown);
  const { units, responseKind, quantity } = calibration;
  return figure({
    title: calibrationTitle(calibration),
    subtitle: calibrationSubtitle(calibration),
    description: calibrationDescription(calibration, shown),
    width,
    height,
    across: [quantity, units.amount, ...model.amounts],
    panels: (room) => {
      const strip = shown.length === 0 ? 8 : 44;
      const inner = room! - strip - 100;
      const upper = Math.round(0.7 * inner);
      return [
        {
          quantity: [responseKind, units.response],
          low: model.responses[0],
          high: model.responses[1],
          height: upper,
          strip,
          draw: (x, y) => [
            lineMarks(calibration, model, x, y),
            [...shown.map((unknown) => unknownMark(unknown, model, x, y)), pointMarks(model, x, y)],
          ],
          labels: shown.map((unknown) => unknownLabel(unknown, model)),
          lines: [
            edgeOf(calibration, model.amounts, 0),
            ...shown.map((unknown) => wayOf(unknown, model)),
            ...model.points.map(({ amount, response }) => [[amount, response]] as const),
          ],
        },
        {
          quantity: [`${responseKind} minus line`, units.response],
          low: -model.residual,
          high: model.residual,
          height: Math.round(inner) - upper,
          strip: 12,
          draw: (x, y) => [[], [residualMarks(calibration, model, x, y)]],
        },
      ];
    },
    entries: calibrationLegend(calibration, shown.length > 0),
  });
}
