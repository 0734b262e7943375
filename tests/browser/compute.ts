import * as peakwright from 'peakwright';

/**
 * A number of computations whose every bit is compared between Node and a
 * browser. Runs in both, bundled.
 */
export function compute(): Record<string, string> {
  const { trace } = peakwright.simulateTrace(recipe);
  const measured = { ...trace, meta: trace.meta };
  return Object.fromEntries(
    Object.entries({
      simulateTrace: () => trace,
      createTrace: () =>
        peakwright.createTrace({
          time: Array.from(measured.time, (t) => t * 60),
          signal: measured.signal,
          timeUnit: 's',
          signalUnit: 'mAU',
          injectedAt: 0.7,
        }),
      emg: () => [0.5, 1, 1.25, 2, 7].map((x) => peakwright.emg(x, { area: 3, mean: 1, sigma: 0.1, tau: 0.3 })),
    }).map(([name, make]) => [name, bits(make())]),
  );
}

const recipe: peakwright.TraceRecipe = {
  duration: 8,
  interval: 0.1,
  seed: 20260101,
  peaks: [
    { shape: 'gaussian', name: 'vanillic acid', retentionTime: 2.4, height: 12, sigma: 0.03 },
    { shape: 'emg', name: '4-hydroxybenzaldehyde', retentionTime: 3.1, height: 55, sigma: 0.03, tau: 0.02 },
    { shape: 'emg', name: 'vanillin', retentionTime: 3.28, height: 210, sigma: 0.035, tau: 0.025 },
    { shape: 'emg', name: 'ethyl vanillin', retentionTime: 5.6, height: 1.5, sigma: 0.05, tau: 0.03 },
  ],
  bumps: [{ time: 0.9, height: -4, sigma: 0.02 }],
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
