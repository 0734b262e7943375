import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { allFamilies, groups, makeAnyRun, type AnyFamily } from './all-families.js';
import type { Run } from './make-run.js';
import { drawRun, libraryAnalyser } from './library.js';
import { peerAnalyser } from './peer.js';
import { hasScipy, scipyAnalyser } from './scipy-peer.js';
import { printDetail } from './print-detail.js';
import { printReport } from './print-report.js';
import { scoreRun, type Analyser, type RunScore } from './score.js';
import { intervals, summarise, type Summary } from './summary.js';
import { aloneFamilies } from './simulated-families.js';
import { printUncertainty } from './uncertainty.js';

/** Seeds below are for development; see README.md. */
const firstReportingSeed = 100000;

const { values } = parseArgs({
  options: {
    seeds: { type: 'string', default: '20' },
    from: { type: 'string', default: '1' },
    family: { type: 'string', multiple: true },
    group: { type: 'string', multiple: true },
    detail: { type: 'boolean', default: false },
    peers: { type: 'boolean', default: false },
    svg: { type: 'string' },
    uncertainty: { type: 'boolean', default: false },
    repeats: { type: 'string', default: '2000' },
  },
});
if (values.uncertainty) {
  printUncertainty(Number(values.repeats));
  process.exit();
}
const seeds = Number(values.seeds);
const from = Number(values.from);
if (!Number.isInteger(seeds) || seeds < 1 || !Number.isInteger(from) || from < 0)
  throw new Error('--seeds and --from take whole numbers');
if (from + seeds > firstReportingSeed && (values.detail || values.svg !== undefined))
  throw new Error(`seeds from ${firstReportingSeed} are for reporting: totals only, nothing is tuned on them`);
const named = (name: string, beginnings: readonly string[] | undefined): boolean =>
  beginnings?.some((word) => name.startsWith(word)) ?? false;
const chosen: readonly AnyFamily[] =
  values.family === undefined && values.group === undefined
    ? allFamilies
    : Object.entries(groups).flatMap(([group, members]) =>
        members.filter((family) => named(group, values.group) || named(family, values.family)),
      );
if (chosen.length === 0) {
  const list = [...Object.keys(groups), ...allFamilies].join(', ');
  throw new Error(`--group and --family take the beginning of one of: ${list}`);
}
const headings = [
  'recall %',
  'false/run',
  'isolated %',
  'p90 %',
  'quality',
  'exc',
  'nonfin',
  'ms',
  'holds %',
  'divided %',
];

/** Judges every chosen family; what comes back is the total line. */
function evaluate(name: string, analyserFor: (runs: readonly Run[]) => Analyser, isLibrary: boolean): Summary {
  const scoresOf = new Map<AnyFamily, readonly RunScore[]>();
  console.log(`\n${name}, seeds ${from} to ${from + seeds - 1}`);
  console.log(row(['family', ...headings]));
  for (const family of chosen) {
    const runs = Array.from({ length: seeds }, (_, i) => makeAnyRun(family, from + i));
    const analyser = analyserFor(runs);
    const scores = runs.map((run) => scoreRun(run, analyser));
    scoresOf.set(family, scores);
    console.log(row([family, ...cells(summarise(scores)), ...coverageCells(scores)]));
    if (isLibrary && values.detail) for (const score of scores) printDetail(score);
    if (isLibrary && values.svg !== undefined) for (const score of scores) draw(score, values.svg);
  }
  const scoresIn = (some: readonly AnyFamily[]): RunScore[] => some.flatMap((family) => scoresOf.get(family) ?? []);
  const totalOf = (some: readonly AnyFamily[]): Summary | undefined => {
    const parts = scoresIn(some);
    if (parts.length === 0) return undefined;
    const each = some.flatMap((family) => {
      const scores = scoresOf.get(family);
      return scores === undefined ? [] : [summarise(scores).quality];
    });
    return { ...summarise(parts), quality: each.reduce((a, b) => a + b, 0) / each.length };
  };
  for (const [group, members] of Object.entries(groups)) {
    const total = totalOf(members);
    if (total !== undefined) console.log(row([`group ${group}`, ...cells(total), ...coverageCells(scoresIn(members))]));
  }
  const total = totalOf(chosen)!;
  console.log(row(['all', ...cells(total), ...coverageCells(scoresIn(chosen))]));
  if (isLibrary) {
    printReport(
      [...scoresOf.values()].flat(),
      aloneFamilies.flatMap((family) => scoresOf.get(family) ?? []),
      total,
    );
  }
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

/** Shares of 95 % intervals that hold the truth: isolated peaks, divided ones. */
function coverageCells(scores: readonly RunScore[]): string[] {
  const { isolated, divided } = intervals(scores);
  return [isolated, divided].map((c) => (c === undefined ? '-' : (c.share * 100).toFixed(1)));
}

function row(texts: readonly string[]): string {
  return texts.map((t, i) => (i === 0 ? t.padEnd(20) : t.padStart(11))).join('');
}

const results: [string, Summary][] = [['library', evaluate('library', () => libraryAnalyser, true)]];
if (values.peers) {
  results.push(['mljs peer', evaluate('peer of general-purpose JavaScript libraries', () => peerAnalyser, false)]);
  if (hasScipy()) results.push(['scipy peer', evaluate('peer of scipy', scipyAnalyser, false)]);
  else console.log('\npeer of scipy: python3-scipy is not installed, left out');
}
if (results.length > 1) {
  console.log(`\n${row(['all families', ...headings.slice(0, 8)])}`);
  for (const [name, summary] of results) console.log(row([name, ...cells(summary)]));
}
