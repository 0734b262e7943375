import type { Scale } from './scale.js';

/** Where a view of a chromatogram lies and how it is scaled. */
export interface PanelFrame {
  /** [px] Left edge of the signal. */
  readonly left: number;
  /** [px] Right edge. */
  readonly right: number;
  /** [px] Upper edge of the signal; labels may stand above it. */
  readonly top: number;
  /** [px] Lower edge. */
  readonly bottom: number;
  /** Time. */
  readonly x: Scale;
  /** Signal. */
  readonly y: Scale;
  /** Start of the names of its patterns. */
  readonly prefix: string;
}
