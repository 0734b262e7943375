import type { Warning } from '../core/index.js';
import type { Calibration } from './calibration.js';
import { warningsOf } from './doubts.js';

/** What to doubt about a line. */
export function doubtCalibration(calibration: Calibration): Warning[] {
  const { points, slope, volumeRange, volumeOffset } = calibration;
  return warningsOf([
    [slope.interval[0] <= 0, 'calibration-slope-not-positive', 'The slope is not significantly above 0.'],
    [
      new Set(points.map(({ amount }) => amount)).size === 2,
      'calibration-two-levels',
      'Two amounts cannot show whether the line is straight.',
    ],
    [
      calibration.responseKind === 'height',
      'calibration-height',
      'Heights change with the width of a peak; areas do not.',
    ],
    [
      volumeOffset === undefined && volumeRange !== undefined && volumeRange[0] < volumeRange[1],
      'calibration-volume-offset-unknown',
      'The intercept is a volume only for one solution at several volumes.',
    ],
  ]);
}
