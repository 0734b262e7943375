export { readTrace } from './read-trace.js';
export { readTraceFile } from './read-trace-file.js';
