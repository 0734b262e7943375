export { createTrace, type TraceDescription, type TraceInput } from './create-trace.js';
export type { BackwardTimes, DuplicateTimes } from './order-samples.js';
export type { GivenMeta } from './resolve-meta.js';
export type { Gap, KnownUnit, Trace, TraceMeta, UnitProvenance } from './trace.js';
export { parseSignalUnit, parseTimeUnit, type SignalUnit, type TimeUnit } from './units.js';
