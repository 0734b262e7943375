export type { Baseline } from './baseline.js';
