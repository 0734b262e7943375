import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';
import type { Run } from './make-run.js';
import type { Analyser, FoundPeak } from './score.js';

const python = '/usr/bin/python3';
/** From the top of the project, where npm runs its scripts: the bench itself is bundled elsewhere. */
const script = resolve('bench/accuracy/peer.py');

/** Whether Debian's python3-scipy is there. */
export function hasScipy(): boolean {
  return spawnSync(python, ['-c', 'import scipy'], { stdio: 'ignore' }).status === 0;
}

/** Sends runs through scipy in one process; the analyser answers for these runs only. Its time is not comparable. */
export function scipyAnalyser(runs: readonly Run[]): Analyser {
  const input = runs.map((r) => JSON.stringify({ time: [...r.time], signal: [...r.signal] })).join('\n');
  const { stdout, stderr, status } = spawnSync(python, [script], { input, encoding: 'utf8', maxBuffer: 1 << 28 });
  if (status !== 0) throw new Error(`scipy peer failed: ${stderr.slice(-500)}`);
  const lines = stdout.trim().split('\n');
  const answers = new Map(runs.map((r, i) => [r.signal, JSON.parse(lines[i]!) as FoundPeak[]]));
  return (_, signal) => {
    const peaks = answers.get(signal);
    if (peaks === undefined) throw new Error('a run that was not sent');
    return { peaks };
  };
}
