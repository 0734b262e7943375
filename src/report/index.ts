export { peakRows, type PeakRow } from './peak-rows.js';
export { renderCalibration, type CalibrationPictureOptions } from './render-calibration.js';
export { renderChromatogram, type ChromatogramOptions } from './render-chromatogram.js';
export { renderPeakTable } from './render-peak-table.js';
export { renderResultJson } from './render-result-json.js';
