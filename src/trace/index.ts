export type { Gap, KnownUnit, Trace, TraceMeta, UnitProvenance } from './trace.js';
export { createTrace } from './create-trace.js';
