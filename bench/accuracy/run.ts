import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { families, makeRun, type Family } from './families.js';
import type { Run } from './make-run.js';
import { drawRun, libraryAnalyser } from './library.js';
import { peerAnalyser } from './peer.js';
import { hasScipy, scipyAnalyser } from './scipy-peer.js';
import { scoreRun, summarise, type Analyser, type RunScore, type Summary } from './score.js';

/** Seeds below are for development; see README.md. */
const firstReportingSeed = 100000;

const { values } = parseArgs({
  options: {
    seeds: { type: 'string', default: '20' },
    from: { type: 'string', default: '1' },
    family: { type: 'string', multiple: true },
    detail: { type: 'boolean', default: false },
    peers: { type: 'boolean', default: false },
    svg: { type: 'string' },
  },
});
const seeds = Number(values.seeds);
const from = Number(values.from);
if (!Number.isInteger(seeds) || seeds < 1 || !Number.isInteger(from) || from < 0)
  throw new Error('--seeds and --from take whole numbers');
if (from + seeds > firstReportingSeed && (values.detail || values.svg !== undefined))
  throw new Error(`seeds from ${firstReportingSeed} are for reporting: totals only, nothing is tuned on them`);
const chosen: readonly Family[] =
  values.family === undefined ? families : families.filter((f) => values.family?.some((w) => f.startsWith(w)));
if (chosen.length === 0) throw new Error(`--family takes the beginning of one of: ${families.join(', ')}`);

function evaluate(name: string, analyserFor: (runs: readonly Run[]) => Analyser, detail: boolean): Summary {
  const all: RunScore[] = [];
  const qualities: number[] = [];
  console.log(`\n${name}, seeds ${from} to ${from + seeds - 1}`);
  console.log(row(['family', 'recall %', 'false/run', 'isolated %', 'p90 %', 'quality', 'exc', 'nonfin', 'ms']));
  for (const family of chosen) {
    const runs = Array.from({ length: seeds }, (_, i) => makeRun(family, from + i));
    const analyser = analyserFor(runs);
    const scores = runs.map((run) => scoreRun(run, analyser));
    const summary = summarise(scores);
    qualities.push(summary.quality);
    console.log(row([family, ...cells(summary)]));
    if (detail) for (const score of scores) printDetail(score);
    if (detail && values.svg !== undefined) for (const score of scores) draw(score, values.svg);
    all.push(...scores);
  }
  const total = { ...summarise(all), quality: qualities.reduce((a, b) => a + b, 0) / qualities.length };
  console.log(row(['all', ...cells(total)]));
  return total;
}

/** One picture of a run in which something was missed, false or more than 10 % off. */
function draw(score: RunScore, folder: string): void {
  const { run, judged, falsePeaks, exception } = score;
  const good = (j: (typeof judged)[number]): boolean => j.areaError !== undefined && Math.abs(j.areaError) <= 0.1;
  if (exception !== undefined || (falsePeaks.length === 0 && judged.every(good))) return;
  mkdirSync(folder, { recursive: true });
  writeFileSync(
    join(folder, `${run.family.replaceAll(' ', '-')}-${run.seed}.svg`),
    drawRun(run.time, run.signal, run.signalUnit),
  );
}

function cells(s: Summary): string[] {
  const show = (value: number | undefined, digits: number): string =>
    value === undefined ? '-' : value.toFixed(digits);
  return [
    show(s.recall === undefined ? undefined : s.recall * 100, 2),
    show(s.falsePerRun, 3),
    show(s.medianIsolated, 3),
    show(s.ninetieth, 2),
    show(s.quality, 4),
    String(s.exceptions),
    String(s.nonFinite),
    show(s.milliseconds, 1),
  ];
}

function row(texts: readonly string[]): string {
  return texts.map((t, i) => (i === 0 ? t.padEnd(20) : t.padStart(11))).join('');
}

function printDetail({ run, judged, falsePeaks, exception, nonFinite }: RunScore): void {
  const place = `    ${run.family} ${run.seed}`;
  const g = (x: number): string => x.toPrecision(4);
  if (exception !== undefined) console.log(`${place} EXCEPTION ${exception}`);
  if (nonFinite > 0) console.log(`${place} ${nonFinite} non-finite numbers`);
  for (const { peak, match, areaError } of judged) {
    const what = `S/N ${g(peak.snr)} height ${g(peak.height)} ${run.signalUnit} sigma ${g(peak.sigma)} ${peak.shape}${peak.clipped ? ' clipped' : ''}${peak.cut ? ' cut' : ''}`;
    if (match === undefined) console.log(`${place} missed  at ${g(peak.apex)}: ${what}`);
    else if (areaError !== undefined && Math.abs(areaError) > 0.1) {
      console.log(
        `${place} area ${(areaError * 100).toFixed(1)} % at ${g(peak.apex)}: ${what} true ${g(peak.start)}-${g(peak.end)} found ${g(match.start)}-${g(match.end)}`,
      );
    }
  }
  for (const f of falsePeaks) {
    const near = [...run.truth.peaks].sort(
      (a, b) => Math.abs(a.apex - f.retentionTime) - Math.abs(b.apex - f.retentionTime),
    )[0];
    const inside = run.truth.disturbances.find((d) => f.retentionTime >= d.from && f.retentionTime <= d.to);
    const about =
      inside !== undefined
        ? `on a ${inside.kind}`
        : near === undefined
          ? 'no peak in the run'
          : `${((f.retentionTime - near.apex) / near.sigma).toFixed(1)} sigma from the peak at ${g(near.apex)} (height ${g(near.height)}${near.visible ? '' : ', not visible'})`;
    console.log(
      `${place} false   at ${g(f.retentionTime)}: ${f.direction} height ${g(f.height)} (${g(Math.abs(f.height) / run.truth.noise)} noise sd) ${g(f.start)}-${g(f.end)}, ${about}`,
    );
  }
}

const results: [string, Summary][] = [
  ['library', evaluate('library', () => libraryAnalyser, values.detail || values.svg !== undefined)],
];
if (values.peers) {
  results.push(['mljs peer', evaluate('peer of general-purpose JavaScript libraries', () => peerAnalyser, false)]);
  if (hasScipy()) results.push(['scipy peer', evaluate('peer of scipy', scipyAnalyser, false)]);
  else console.log('\npeer of scipy: python3-scipy is not installed, left out');
}
if (results.length > 1) {
  console.log(
    `\n${row(['all families', 'recall %', 'false/run', 'isolated %', 'p90 %', 'quality', 'exc', 'nonfin', 'ms'])}`,
  );
  for (const [name, summary] of results) console.log(row([name, ...cells(summary)]));
}
