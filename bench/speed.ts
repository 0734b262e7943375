import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { sgg } from 'ml-savitzky-golay-generalized';
import { xMedian, xNoiseStandardDeviation, xyIntegration } from 'ml-spectra-processing';
import { analyse, createTrace, integrate, type Trace } from '../src/index.js';
import { peerAnalyser } from './accuracy/peer.js';
import { createRandom } from './accuracy/random.js';
import { gate, libraryExport } from './gates.js';

const { values } = parseArgs({
  options: {
    long: { type: 'boolean', default: false },
    memory: { type: 'string' },
    kind: { type: 'string', default: 'longer' },
  },
});

type Kind = 'longer' | 'denser';

/** `longer`: the same sampling for longer, one peak per 600 samples. `denser`: one 30 min run of 12 peaks, sampled faster. */
function makeSamples(n: number, kind: Kind): { time: Float64Array; signal: Float64Array } {
  const random = createRandom(n, kind);
  const step = kind === 'longer' ? 0.2 / 60 : 30 / n;
  const end = n * step;
  const time = Float64Array.from({ length: n }, (_, i) => i * step);
  const signal = Float64Array.from(time, (t) => 3 + 0.01 * Math.sin((6.28 * t) / 30) + 0.03 * random.normal());
  const count = kind === 'longer' ? Math.floor(n / 600) : 12;
  for (let k = 0; k < count; k++) {
    const apex = (end * (k + 0.6 + random.uniform(0, 0.3))) / (count + 0.5);
    const sigma = kind === 'longer' ? random.uniform(0.03, 0.12) : 0.03 + 0.004 * apex;
    const height = random.logUniform(1, 800);
    const last = Math.min(n - 1, Math.ceil((apex + 8 * sigma) / step));
    for (let i = Math.max(0, Math.floor((apex - 8 * sigma) / step)); i <= last; i++) {
      const x = (time[i]! - apex) / sigma;
      signal[i]! += height * Math.exp((-x * x) / 2);
    }
  }
  return { time, signal };
}

function sum(samples: Float64Array): number {
  let total = 0;
  for (let i = 0; i < samples.length; i++) total += samples[i]!;
  return total;
}

let sink = 0;
/** Milliseconds per call, warmed: the smallest and the median over at least `budget` ms and five calls. */
function clock(work: () => unknown, budget: number): { least: number; median: number } {
  const times: number[] = [];
  const started = performance.now();
  while (performance.now() - started < budget || times.length < 5) {
    const before = performance.now();
    const result = work();
    times.push(performance.now() - before);
    if (typeof result === 'number') sink += result;
  }
  const warmed = times.slice(Math.min(2, times.length - 1)).sort((a, b) => a - b);
  return { least: warmed[0]!, median: warmed[warmed.length >> 1]! };
}

if (values.memory !== undefined) {
  const { time, signal } = makeSamples(Number(values.memory), values.kind as Kind);
  const trace = createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' });
  const before = process.resourceUsage().maxRSS;
  analyse(trace);
  const after = process.resourceUsage().maxRSS;
  process.stdout.write(
    `${((after - before) / 1024).toFixed(1)} MB more than before it (${(after / 1024).toFixed(0)} MB in all)`,
  );
} else {
  measureAll();
}

function measureAll(): void {
  console.log(
    `Node ${process.version}. One pass = least time of a warmed sum over the same number of samples; gates compare least times.`,
  );
  const lengths = values.long ? [1e4, 1e5, 1e6, 1e7] : [1e4, 1e5, 1e6];
  for (const kind of ['longer', 'denser'] as const) {
    const perSample = new Map<number, number>();
    for (const n of lengths) {
      perSample.set(n, measure(n, kind) / n);
    }
    gate(`${kind}: cost per sample at 1e6 over that at 1e4`, perSample.get(1e6)! / perSample.get(1e4)!, 2);
  }
  const { time, signal } = makeSamples(12000, 'denser');
  const trace = createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' });
  console.log('');
  gate(
    'a run of 12 000 samples without fits [ms, median]',
    clock(() => analyse(trace, { divider: 'drop line' }), 1000).median,
    5,
  );
  gate('a run of 12 000 samples, every peak fitted [ms, median]', clock(() => analyse(trace), 1000).median, 10);
  if (Number.isNaN(sink)) console.log('');
}

function measure(n: number, kind: Kind): number {
  const { time, signal } = makeSamples(n, kind);
  const pass = clock(() => sum(signal), 300).least;
  const budget = n >= 1e7 ? 0 : 700;
  const line = (name: string, work: () => unknown): { least: number; median: number } => {
    const t = clock(work, budget);
    const passes = (ms: number): string => (ms / pass).toFixed(1).padStart(9);
    console.log(
      `  ${name.padEnd(44)}${t.least.toFixed(3).padStart(10)}${t.median.toFixed(3).padStart(10)}${passes(t.least)}${passes(t.median)}`,
    );
    return t;
  };
  console.log(`\n${n.toExponential(0)} samples, ${kind} (one pass ${pass.toFixed(4)} ms)`);
  console.log(
    `  ${''.padEnd(44)}${'least ms'.padStart(10)}${'median ms'.padStart(10)}${'passes'.padStart(9)}${'median'.padStart(9)}`,
  );
  const trace = createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' });
  line('analyse, every peak fitted', () => analyse(trace));
  const cost = line('analyse without fits', () => analyse(trace, { divider: 'drop line' })).least;
  line('  stage: createTrace (outside analyse)', () =>
    createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' }),
  );
  for (const name of ['estimateNoise', 'estimateBaseline', 'findPeaks']) {
    const stage = libraryExport(name) as ((trace: Trace) => unknown) | undefined;
    if (stage === undefined) console.log(`  stage: ${name} is not exported`);
    else tryStage(() => line(`  stage: ${name}, alone`, () => stage(trace)), name);
  }
  const { plan } = analyse(trace, { divider: 'drop line' });
  line('  stage: integrate under the plan, alone', () => integrate(trace, plan));
  const memory = execFileSync(
    process.execPath,
    [...process.execArgv, fileURLToPath(import.meta.url), '--memory', String(n), '--kind', kind],
    { encoding: 'utf8' },
  );
  console.log(
    `  peak resident memory after the first analyse in a fresh process: ${memory}; the signal ${((n * 8) / 1048576).toFixed(1)} MB`,
  );
  const spacing = time[1]! - time[0]!;
  if (n <= 1e6) {
    line('peer: Savitzky-Golay, 25 points (mljs)', () =>
      sgg(signal, spacing, { windowSize: 25, polynomial: 3, derivative: 0 }),
    );
    line('peer: noise by median deviation (mljs)', () => xNoiseStandardDeviation(signal).sd);
    line('peer: median (mljs)', () => xMedian(signal));
    line('peer: trapezoids over the run (mljs)', () => xyIntegration({ x: time, y: signal }));
  }
  if (n <= 1e5) line('peer: whole plain pipeline (bench/accuracy/peer)', () => peerAnalyser(time, signal, 'mAU'));
  if (n <= 1e6) gate(`${kind}: analyse without fits at ${n.toExponential(0)} [passes]`, cost / pass, 200, 100);
  return cost;
}

function tryStage(work: () => unknown, name: string): void {
  try {
    work();
  } catch (error) {
    console.log(
      `  stage: ${name} could not run on a trace alone (${error instanceof Error ? error.message.slice(0, 80) : 'unknown error'})`,
    );
  }
}
