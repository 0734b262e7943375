import type { SurveyedRun } from '../peaks/index.js';
import { noiseOf, type Noise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';

/** The noise of a run, from what was seen in the survey unless that interpolated the record. */
export function noiseOfRun(trace: Trace, { noise, pyramid }: SurveyedRun): Noise {
  return noiseOf(trace, undefined, pyramid.levels[0]!.length === trace.time.length ? noise : undefined);
}
