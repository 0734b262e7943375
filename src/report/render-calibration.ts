import type { Calibration, Prediction } from '../calibration/index.js';
import { resolveOptions } from '../core/index.js';
import { checkSize } from './check-size.js';
import { calibrationLegend, edgeOf, lineMarks, pointMarks, residualMarks, wayOf } from './calibration-marks.js';
import { calibrationModel, shownUnknowns } from './calibration-model.js';
import { calibrationSubtitle } from './calibration-words.js';
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

  const shown = shownUnknowns(calibration, unknowns);
  const model = calibrationModel(calibration, shown);
  const { amounts, responses, residual, points } = model;
  const { component = 'Calibration', units, responseKind, quantity } = calibration;
  return figure({
    title: `${component}: ${responseKind} against ${quantity}`,
    subtitle: calibrationSubtitle(calibration),
    details: shown.map(({ name, text }) => `${name}: ${text}`),
    width,
    height,
    across: [quantity, units.amount, ...amounts],
    panels: [
      {
        quantity: [responseKind, units.response],
        low: responses[0],
        high: responses[1],
        height: 7,
        strip: shown.length > 0 ? 44 : 8,
        draw: (x, y) => [lineMarks(calibration, model, x, y), pointMarks(model, x, y)],
        labels: shown.map(({ name, text, response, quantity: read }) => {
          return { x: read?.value ?? (amounts[0] + amounts[1]) / 2, y: response, versions: [[name, text], [text]] };
        }),
        lines: [
          edgeOf(calibration, amounts, 0),
          ...shown.map((unknown) => wayOf(unknown, model)),
          ...points.map(({ amount, response }) => [[amount, response]] as const),
        ],
      },
      {
        quantity: [`${responseKind} minus line`, units.response],
        low: -residual,
        high: residual,
        height: 3,
        strip: 12,
        draw: (x, y) => [[], residualMarks(model, x, y)],
      },
    ],
    entries: calibrationLegend(calibration, model),
  });
}
