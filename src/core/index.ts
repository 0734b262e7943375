export { errorCodes, type ErrorCode } from './error-codes.js';
export { isPeakwrightError, PeakwrightError, type ErrorDetails } from './errors.js';
export { describe, failOption, nearest, resolveOptions } from './options.js';
export type { Warning } from './warnings.js';
