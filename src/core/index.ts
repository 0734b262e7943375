export type { ErrorCode, ErrorCodes } from './error-codes.js';
export { fail, isPeakwrightError, PeakwrightError, type ErrorDetails } from './errors.js';
export {
  checkFields,
  checkNames,
  checkNotNegative,
  checkNumber,
  checkOneOf,
  checkPositive,
  checkText,
  checkWhole,
  defined,
  describe,
  failOption,
  nearest,
  optional,
  resolveOptions,
  type Check,
} from './options.js';
export type { Warning } from './warnings.js';
