export { emg, emgAreaBefore, emgFromApex, emgHeight, emgMode, type EmgShape } from './emg.js';
export { gaussian, gaussianArea, gaussianAreaBefore, type GaussianShape } from './gaussian.js';
