import { baselineAt, baselineUncertaintyAt, type Baseline } from '../baseline/index.js';
import { defined, fail, type Warning } from '../core/index.js';
import { signalToNoiseBetween } from '../measures/index.js';
import { joinStretches, polylineAt, type JoinedStretches } from '../numeric/index.js';
import type { Noise } from '../signal/index.js';
import type { Trace } from '../trace/index.js';
import type { Analysis, Peak } from './analysis.js';
import type { Method, Settings } from './method.js';

/** [-] Part of the run that a blank may be short of at either end. */
const shortBy = 0.002;

/** Refuses a blank that says nothing about the run: another unit, or not as long. */
export function checkBlank(trace: Trace, blank: Trace): void {
  const unit = trace.signalUnit;
  if (blank.signalUnit !== unit) {
    const message = `the run is in ${unit}, the blank in ${blank.signalUnit}; bring both to one unit with convertSignal.`;
    fail('analyse', 'unit-mismatch', message, { field: 'blank', value: blank.signalUnit, expected: unit });
  }
  const [from, to] = [trace.time[0]!, trace.time.at(-1)!];
  const [start, end] = [blank.time[0]!, blank.time.at(-1)!];
  const room = Math.max(shortBy * (to - from), 2 / 60);
  if (start <= from + room && end >= to - room) return;
  const [run, own] = [
    [from, to],
    [start, end],
  ].map((ends) => ends.map((t) => t.toFixed(3)).join(' to '));
  const message = `the blank runs from ${own!} min, the run from ${run!} min; cut the run to what the blank covers with cropTrace, or give a blank that is as long.`;
  fail('analyse', 'blank-too-short', message, { field: 'blank', value: own, expected: `at least ${run!} min` });
}

/** How a blank is analysed: as the run was, without its rules, names and promotions. */
export function methodOfBlank(
  asked: Method,
  { peakWidth, sharpestBend }: Pick<Settings, 'peakWidth' | 'sharpestBend'>,
): Method {
  const rules = asked.rules.filter(({ kind }) => kind === 'downward peaks expected' || kind === 'expected width');
  return { ...asked, peakWidth, sharpestBend, rules, components: [], takeAsPeak: [] };
}

/** What the peaks of a run become beside its blank. */
export function besideBlank(peaks: readonly Peak[], blank: Analysis, window: number): Peak[] {
  const busy = [...blank.peaks, ...blank.disturbances].map(({ start, end }) => ({ from: start, to: end }));
  const occupied = joinStretches(busy);
  return peaks.map((peak) => {
    const seen = ownPeakOf(blank, peak);
    const signalToNoise = ratioFrom(blank, peak, occupied, window);
    if (seen === undefined && signalToNoise === undefined) return peak;
    const kept = peak.warnings.filter(({ code }) => signalToNoise === undefined || code !== 'signal-to-noise-absent');
    const warnings = seen === undefined ? kept : [...kept, interference(peak, seen, blank.units.area)];
    return { ...peak, ...defined({ signalToNoise, inBlank: seen }), warnings };
  });
}

/** 2H/h with h from the blank, where it has a stretch free of peaks around the place. */
function ratioFrom(
  { trace, noise }: Analysis,
  peak: Peak,
  occupied: JoinedStretches,
  window: number,
): Peak['signalToNoise'] {
  const width = peak.widths.halfHeight;
  if (width === undefined) return undefined;
  const { signalToNoise: ratio } = signalToNoiseBetween(trace, peak, width, occupied, noise, window);
  return ratio?.source === 'this run' ? { ...ratio, source: 'blank' } : undefined;
}

/** What the blank has at the place of a peak: the nearest of its own within half a width that points the same way. */
function ownPeakOf({ peaks, disturbances }: Analysis, peak: Peak): Peak['inBlank'] {
  const early = disturbances.flatMap(({ kind, at, height, area }) =>
    kind === 'early disturbance' && height !== undefined && area !== undefined
      ? [{ retentionTime: at, height, area, halfHeight: 0 }]
      : [],
  );
  const own = peaks.map(({ retentionTime, height, area, widths: { halfHeight = 0 } }) => ({
    retentionTime,
    height,
    area,
    halfHeight,
  }));
  const width = peak.widths.halfHeight ?? (peak.end - peak.start) / 4;
  const distance = ({ retentionTime }: { retentionTime: number }): number =>
    Math.abs(retentionTime - peak.retentionTime);
  const [nearest] = [...own, ...early]
    .filter((each) => each.height * peak.height > 0 && distance(each) <= Math.max(width, each.halfHeight) / 2)
    .sort((a, b) => distance(a) - distance(b));
  // What is less than the area is uncertain by does not matter.
  if (nearest === undefined || Math.abs(nearest.area) <= (peak.areaUncertainty ?? 0)) return undefined;
  const { retentionTime, area } = nearest;
  const share = (100 * area) / peak.area;
  return { retentionTime, area, ...(Number.isFinite(share) ? { share } : {}) };
}

function interference({ retentionTime: at }: Peak, seen: NonNullable<Peak['inBlank']>, unit: string): Warning {
  const share = seen.share === undefined ? '' : `, ${seen.share.toPrecision(3)} % of its area`;
  const message = `The peak at ${at.toFixed(3)} min is in the blank too, at ${seen.retentionTime.toFixed(3)} min, with ${seen.area.toPrecision(4)} ${unit}${share}: an interference, or carried over. Nothing was subtracted.`;
  return { code: 'peak-in-blank', message, at };
}

/** Places at which the baselines are compared. */
const places = 240;
/** [-] Distance of the baselines in noise of single readings of both, and their own uncertainties, that is no chance. Our own. */
const departs = 5;

/** What a blank says about a run as a whole. */
export function blankWarnings(trace: Trace, baseline: Baseline, noise: Noise, blank: Analysis): Warning[] {
  const warnings: Warning[] = [];
  const [origin, other] = [trace.meta.timeOrigin, blank.trace.meta.timeOrigin];
  if (origin !== other) {
    const message = `Time counts from the ${origin} in the run, but from the ${other} in the blank: their places may not belong together.`;
    warnings.push({ code: 'blank-time-origin', message });
  }
  const from = Math.max(trace.time[0]!, blank.trace.time[0]!);
  const to = Math.min(trace.time.at(-1)!, blank.trace.time.at(-1)!);
  const times = Array.from({ length: places }, (_, i) => from + ((to - from) * (i + 0.5)) / places);
  const apart = times.map((t) => baselineAt(baseline, t) - baselineAt(blank.baseline, t));
  // Where zero was set differs from run to run; the shape must not.
  const offset = [...apart].sort((a, b) => a - b)[places / 2]!;
  const [own, its] = [noise.standardDeviation, blank.noise.standardDeviation];
  // Records without noise differ by rounding.
  const signal = { time: trace.time, value: trace.signal };
  const rounding = 1e-9 * Math.max(...times.map((t) => Math.abs(polylineAt(signal, t))));
  let worst = 0;
  let place = 0;
  times.forEach((t, i) => {
    const [u, v] = [baselineUncertaintyAt(baseline, t), baselineUncertaintyAt(blank.baseline, t)];
    const spread = Math.sqrt(own * own + its * its + u * u + v * v + rounding * rounding);
    const distance = Math.abs(apart[i]! - offset) / spread;
    if (distance > worst && Number.isFinite(distance)) {
      worst = distance;
      place = i;
    }
  });
  if (worst > departs) {
    const at = times[place]!;
    const message = `The baseline departs from that of the blank, their offset left aside, by ${(apart[place]! - offset).toPrecision(3)} ${trace.signalUnit} at ${at.toFixed(3)} min, ${worst.toPrecision(2)} times what noise explains: the blank does not tell the background of this run.`;
    warnings.push({ code: 'baseline-departs-from-blank', message, at });
  }
  return warnings;
}
