export { renderChromatogram, type ChromatogramOptions } from './render-chromatogram.js';
