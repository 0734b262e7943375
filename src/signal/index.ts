export type { Disturbance } from './disturbance.js';
export type { Noise } from './noise.js';
