export { errorCodes, type ErrorCode } from './error-codes.js';
export { fail, isPeakwrightError, PeakwrightError, type ErrorDetails } from './errors.js';
export {
  checkNames,
  checkNotNegative,
  checkNumber,
  checkOneOf,
  checkPositive,
  checkWhole,
  defined,
  describe,
  failOption,
  nearest,
  resolveOptions,
} from './options.js';
export type { Warning } from './warnings.js';
