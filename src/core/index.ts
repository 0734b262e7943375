export { errorCodes, type ErrorCode } from './error-codes.js';
export { isPeakwrightError, PeakwrightError, type ErrorDetails } from './errors.js';
export { defined, describe, failOption, nearest, resolveOptions } from './options.js';
export type { Warning } from './warnings.js';
