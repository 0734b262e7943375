import * as library from 'peakwright';
import type { Trace, TraceRecipe } from 'peakwright';

/**
 * Computations whose every bit is compared between Node and a browser. Runs in
 * both, bundled.
 */
export function compute(): Record<string, string> {
  const { trace, truth } = library.simulateTrace(recipe);
  const text = toText(trace);
  const calibration = library.fitCalibration(points, { concentrationUnit: 'mg/L', responseUnit: 'mAU s' });
  const made = {
    simulateTrace: () => ({ trace, truth }),
    createTrace: () =>
      library.createTrace({
        time: Array.from(trace.time, (t) => t * 60),
        signal: trace.signal,
        timeUnit: 's',
        signalUnit: 'mAU',
        injectedAt: 0.7,
      }),
    resampleTrace: () => library.resampleTrace(unevenly(trace), { step: 0.15 / 60 }),
    parseFile: () => library.parseFile(text),
    smooth: () => library.smooth(trace, { method: 'savitzky-golay', window: 0.04 }),
    analyse: () => library.analyse(trace),
    'analyse, pinned': () => library.analyse(trace, library.pinMethod(library.analyse(trace))),
    'analyse, unevenly sampled': () => library.analyse(unevenly(trace)),
    fitCalibration: () => calibration,
    predictAmount: () => library.predictAmount(calibration, [130.3, 131.1], { volume: 10 }),
    'peakRows and tables': () => {
      const analysis = library.analyse(trace);
      return [library.peakRows(analysis.peaks, analysis.units), library.renderPeakTable(analysis)];
    },
    pictures: () => pictures(),
    emg: () => [0.5, 1, 1.25, 2, 7].map((x) => library.emg(x, { area: 3, mean: 1, sigma: 0.1, tau: 0.3 })),
  };
  return Object.fromEntries(Object.entries(made).map(([name, make]) => [name, bits(make())]));
}

/** Pictures as SVG text. */
export function pictures(): Record<string, string> {
  const analysis = library.analyse(library.simulateTrace(recipe).trace);
  const calibration = library.fitCalibration(points, { concentrationUnit: 'mg/L', responseUnit: 'mAU s' });
  return {
    chromatogram: library.renderChromatogram(analysis),
    'zoomed chromatogram': library.renderChromatogram(analysis, { from: 2, to: 4 }),
    calibration: library.renderCalibration(calibration),
  };
}

/** A Gaussian through an outside package, which takes the exponential of the engine: the last bits may differ. */
export function gaussianValues(): number[] {
  return Array.from({ length: 81 }, (_, i) => library.gaussian(i / 10, { height: 1, centre: 4, sigma: 0.7 }));
}

const points = [41.9, 80.6, 121.7, 160.2, 200.4].map((response, i) => ({
  concentration: 25,
  volume: 2 * (i + 1),
  response,
}));

/** As a file would hold it. */
function toText(trace: Trace): string {
  const rows = Array.from(trace.time, (t, i) => `${t.toFixed(6)};${trace.signal[i]!.toFixed(3)}`);
  return ['Time (min);Signal (mAU)', ...rows].join('\n').replaceAll('.', ',');
}

/** Every fifth sample left out. */
function unevenly(trace: Trace): Trace {
  const keep = (_: number, i: number): boolean => i % 5 !== 3;
  const [time, signal] = [trace.time.filter(keep), trace.signal.filter(keep)];
  return library.createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' });
}

/** Without `'gaussian'`; see {@link gaussianValues}. */
const recipe: TraceRecipe = {
  duration: 8,
  interval: 0.1,
  seed: 20260101,
  peaks: [
    { shape: 'emg', retentionTime: 0.9, height: -4, sigma: 0.02, tau: 0 },
    { shape: 'emg', name: 'vanillic acid', retentionTime: 2.4, height: 12, sigma: 0.03, tau: 0 },
    { shape: 'emg', name: '4-hydroxybenzaldehyde', retentionTime: 3.1, height: 55, sigma: 0.03, tau: 0.02 },
    { shape: 'emg', name: 'vanillin', retentionTime: 3.28, height: 210, sigma: 0.035, tau: 0.025 },
    { shape: 'emg', name: 'ethyl vanillin', retentionTime: 5.6, height: 1.5, sigma: 0.05, tau: 0.03 },
  ],
  baseline: { offset: 0.4, drift: 3 },
  noise: { white: 0.02, correlated: { standardDeviation: 0.03, timeConstant: 3 } },
  step: 0.001,
};

/**
 * The bits of every number in a value, in order, as text: a hash of 2 × 32 bits
 * (FNV-1a over the bytes, forwards and from another start), with their count.
 */
export function bits(value: unknown): string {
  const hash = { a: 0x811c9dc5, b: 0x9747b28c, count: 0 };
  const view = new DataView(new ArrayBuffer(8));
  const byte = (x: number): void => {
    hash.a = Math.imul(hash.a ^ x, 0x01000193) >>> 0;
    hash.b = Math.imul(hash.b ^ x, 0x01000193) >>> 0;
    hash.b = ((hash.b << 5) | (hash.b >>> 27)) >>> 0;
  };
  const visit = (part: unknown): void => {
    if (typeof part === 'number') {
      view.setFloat64(0, part);
      for (let i = 0; i < 8; i++) byte(view.getUint8(i));
      hash.count += 1;
    } else if (typeof part === 'string') {
      for (let i = 0; i < part.length; i++) byte(part.charCodeAt(i) & 0xff);
    } else if (ArrayBuffer.isView(part)) {
      for (const x of part as unknown as Iterable<number>) visit(x);
    } else if (typeof part === 'object' && part !== null) {
      for (const [key, inner] of Object.entries(part)) {
        visit(key);
        visit(inner);
      }
    }
  };
  visit(value);
  return `${hash.a.toString(16)} ${hash.b.toString(16)} of ${hash.count} numbers`;
}
