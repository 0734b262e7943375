import { baselineAt, baselineUncertaintyAt, type Baseline } from '../baseline/index.js';
import { firstAtOrAfter, polylineAt } from '../numeric/index.js';
import { areaDeviations, uncertaintyOf } from './area-deviation.js';
import { apexOf, areaOf } from './choose-curves.js';
import { addCurve, type Curve, type CurveFit } from './curve-fit.js';
import type { FitWindow } from './fit-window.js';
import type { LimitKind, PlannedPeak, PlannedRegion } from './plan.js';

/** [-] Share of a peak that may be left outside its limits. */
const leftOutside = 0.001;
/** [noise of a mean times its half length] Area of a tail that noise hides. */
const unseenTail = 6;
/** [-] The noise beside which curves are weighed, in noise of a mean. */
const noiseBeside = 2;

/** A fitted group. */
export interface Settled {
  readonly region: PlannedRegion;
  readonly baseline: Baseline;
  readonly curves: readonly Curve[];
}

/** The plan of a fitted group. */
export function settle(
  run: Baseline,
  peaks: readonly PlannedPeak[],
  window: FitWindow,
  fit: CurveFit,
  taken: Set<string>,
): Settled {
  const order = fit.curves.map((_, i) => i).sort((a, b) => apexOf(fit.curves[a]!) - apexOf(fit.curves[b]!));
  const curves = order.map((i) => fit.curves[i]!);
  const baseline = settledBaseline(`under ${peaks[0]!.id}`, run, window, fit);
  const [from, to] = reach(window, curves);
  const start = Math.min(peaks[0]!.start, from);
  const end = Math.max(peaks.at(-1)!.end, to);
  // Where the detector was at its limit the area is what there is, and no more.
  const noise = window.weight.every((w) => w > 0) ? noiseBeside * window.noise : 0;
  const isCut = peaks[0]!.startKind === 'cut off' || peaks.at(-1)!.endKind === 'cut off';
  const deviations = areaDeviations(fit, window, { start, end, noise, isCut });
  const limits = [start];
  const least = 1e-6 * (end - start);
  for (let i = 1; i < curves.length; i++) {
    const [a, b] = [curves[i - 1]!, curves[i]!];
    const at = a.peak >= 0 && b.peak === a.peak + 1 ? peaks[b.peak]!.start : crossing(a, b);
    // Between hidden peaks a valley and a crossing may come in the wrong order.
    limits.push(Math.min(Math.max(at, limits[i - 1]! + least), end - least * (curves.length - i)));
  }
  limits.push(end);
  const planned = curves.map((curve, i): PlannedPeak => {
    const [a, b] = [limits[i]!, limits[i + 1]!];
    const own = peaks[curve.peak];
    const kind = (at: 0 | 1): LimitKind => {
      const outer = at === 0 ? i === 0 : i === curves.length - 1;
      if (!outer) return 'fit';
      return at === 0 ? peaks[0]!.startKind : peaks.at(-1)!.endKind;
    };
    const limitsOf = { start: a, end: b, startKind: kind(0), endKind: kind(1), baseline: baseline.id };
    if (own) return { ...own, ...limitsOf };
    const apex = apexOf(curve);
    let id = `p${apex.toFixed(3)}`;
    for (let k = 2; taken.has(id); k++) id = `p${apex.toFixed(3)}-${k}`;
    taken.add(id);
    return {
      id,
      apex,
      ...limitsOf,
      direction: curve.sign === 1 ? 'up' : 'down',
      revealed: true,
      decisions: [
        {
          about: 'peak',
          rule: 'hidden beside another',
          at: apex,
          value: fit.misfit,
          text: 'No maximum of its own: without it no shapes of the others follow the signal.',
        },
      ],
    };
  });
  return {
    curves,
    baseline,
    region: {
      start,
      end,
      peaks: planned,
      ...(noise > 0 && { curveNoise: noise }),
      curves: curves.map(({ kind, sign, parameters }, i) => ({
        peak: planned[i]!.id,
        kind,
        parameters: [sign * parameters[0]!, ...parameters.slice(1)],
        ...uncertaintyOf(deviations[order[i]!]),
      })),
    },
  };
}

/** The baseline of the run with the line of the fit, over the window. */
function settledBaseline(id: string, run: Baseline, window: FitWindow, { line }: CurveFit): Baseline {
  const { middle, half } = window;
  const own = window.tail ? window.time.subarray(0, window.count) : run.time;
  const room = half * (1 - 1e-6);
  const inside = own.slice(firstAtOrAfter(own, middle - room), firstAtOrAfter(own, middle + room));
  const time = [middle - half, ...inside, middle + half];
  const tail = (t: number) =>
    window.tail ? polylineAt({ time: window.time.subarray(0, window.count), value: window.tail }, t) : 0;
  return {
    id,
    kind: 'settled by a fit',
    time,
    value: time.map((t) => baselineAt(run, t) + tail(t) + line[0] + (line[1] * (t - middle)) / half),
    uncertainty: time.map((t) => baselineUncertaintyAt(run, t)),
  };
}

/** [min] First and last time outside which the curves hold no more than a thousandth, or than noise hides. */
function reach({ time, count, middle, half, noise }: FitWindow, curves: readonly Curve[]): [number, number] {
  const sum = new Float64Array(count);
  for (const curve of curves) addCurve({ ...curve, sign: 1 }, time, count, sum);
  const edge = (first: number, step: 1 | -1, curve: Curve): number => {
    let left = 0;
    // What cannot be told from noise gives no reason to move a limit.
    const most = Math.max(leftOutside * areaOf(curve), unseenTail * noise * (half / count));
    for (let k = first; k >= 0 && k < count; k += step) {
      const width = Math.abs((time[k + step] ?? time[k]!) - time[k]!);
      left += sum[k]! * width;
      if (left > most) return time[k]!;
    }
    return middle;
  };
  return [
    Math.max(middle - half, edge(0, 1, curves[0]!)),
    Math.min(middle + half, edge(count - 1, -1, curves.at(-1)!)),
  ];
}

/** [min] Where the later of two curves becomes the larger; half way when it does not. */
function crossing(a: Curve, b: Curve): number {
  let low = apexOf(a);
  let high = apexOf(b);
  const place = new Float64Array(1);
  const difference = (t: number): number => {
    place[0] = t;
    const [va, vb] = [new Float64Array(1), new Float64Array(1)];
    addCurve({ ...a, sign: 1 }, place, 1, va);
    addCurve({ ...b, sign: 1 }, place, 1, vb);
    return vb[0]! - va[0]!;
  };
  if (difference(low) >= 0 || difference(high) <= 0) return (low + high) / 2;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (difference(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
