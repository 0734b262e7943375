import { sha256 } from '@noble/hashes/sha2.js';
import { integrate, planIntegration } from '../integration/index.js';
import { findPeaks } from '../peaks/index.js';
import type { Trace } from '../trace/index.js';
import type { Analysis } from './analysis.js';

/** Thin line: trace to peaks with areas. */
export function analyse(trace: Trace): Analysis {
  const found = findPeaks(trace);
  const plan = planIntegration(trace, found.candidates, found.baseline);
  const measured = integrate(trace, plan);
  const hash = sha256.create();
  for (const part of [trace.time, trace.signal]) hash.update(new Uint8Array(part.buffer, part.byteOffset, part.byteLength));
  return {
    trace,
    peaks: measured.peaks.map((p) => ({ ...p, widths: {}, plates: {} })),
    rejected: found.rejected,
    regions: measured.regions,
    baseline: found.baseline,
    noise: { standardDeviation: (found.noise.level[0] ?? 0) / 1.2247, along: { time: [], value: [] }, correlation: 0 },
    disturbances: [],
    warnings: [],
    units: { time: 'min', signal: trace.signalUnit, area: `${trace.signalUnit} s`, provenance: trace.meta },
    method: { narrowestPeak: 'automatic' },
    settings: { narrowestPeak: 0 },
    plan,
    provenance: { library: 'peakwright', traceHash: Array.from(hash.digest(), (b) => b.toString(16).padStart(2, '0')).join('') },
  };
}
