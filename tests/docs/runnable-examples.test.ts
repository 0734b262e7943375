import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

/** The programs in `examples/`, run as a reader runs them, on the sources. */
const folder = mkdtempSync(path.join(os.tmpdir(), 'peakwright-examples-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Outcome {
  readonly status: number | null;
  readonly output: string;
  readonly errors: string;
}

function runExample(name: string, ...args: readonly string[]): Outcome {
  const env = { ...process.env };
  delete env['INIT_CWD'];
  const program = ['--import', 'tsx', path.resolve('examples', name), ...args];
  const settings = {
    encoding: 'utf8',
    env: { ...env, TSX_TSCONFIG_PATH: path.resolve('tests/tsconfig.json') },
  } as const;
  const { status, stdout, stderr } = spawnSync(process.execPath, program, settings);
  return { status, output: stdout, errors: stderr };
}

describe('The quickstart', () => {
  const out = path.join(folder, 'out');
  let demo: Outcome;
  beforeAll(() => {
    demo = runExample('quickstart.ts', `--out=${out}`);
  }, 60_000);
  const read = (name: string): string => readFileSync(path.join(out, name), 'utf8');

  test('runs to its end and says that its data are invented', () => {
    expect(demo.errors).toBe('');
    expect(demo.status).toBe(0);
    expect(demo.output).toContain('INVENTED');
  });

  test('writes a picture, a table and the whole result for each run, a curve and the results', () => {
    const runs = ['standard-2-ul', 'standard-4-ul', 'standard-6-ul', 'standard-8-ul', 'standard-10-ul', 'blank', 'extract-1', 'extract-2']; // prettier-ignore
    const expected = runs.flatMap((run) => [`${run}.svg`, `${run}.peaks.csv`, `${run}.json`]);
    expect(readdirSync(out).sort()).toEqual([...expected, 'curve.svg', 'results.csv', 'traces'].sort());
    expect(readdirSync(path.join(out, 'traces')).sort()).toEqual(runs.map((run) => `${run}.csv`).sort());
    for (const run of runs) {
      expect(read(`${run}.svg`)).toMatch(/<svg[\s\S]*<\/svg>\s*$/);
      expect(JSON.parse(read(`${run}.json`))).toHaveProperty('peaks');
    }
    expect(read('curve.svg')).toMatch(/<svg[\s\S]*<\/svg>\s*$/);
    expect(demo.output).toContain(path.resolve(out));
  });

  test('finds the amount that was put in: within its interval, and within half a percent', () => {
    const last = read('results.csv').trim().split('\r\n').at(-1)!.split(',');
    const [value, , from, to, truth] = last.slice(7, 12).map(Number);
    expect(truth).toBe(1.512);
    expect(from).toBeLessThan(truth!);
    expect(to).toBeGreaterThan(truth!);
    expect(Math.abs(value! / truth! - 1)).toBeLessThan(0.005);
  });

  test('finds the offset of the injector, 0.3 µL, within four standard errors', () => {
    const [, offset, error] = /intercept as a volume +(\S+) ± (\S+) µL/.exec(demo.output)!.map(Number);
    expect(Math.abs(offset! - 0.3)).toBeLessThan(4 * error!);
  });

  test('finds no compound in the blank, and every compound in the extracts', () => {
    const named = (run: string): string[] => {
      const { peaks } = JSON.parse(read(`${run}.json`)) as { peaks: { name?: string }[] };
      return peaks.flatMap(({ name }) => name ?? []);
    };
    expect(named('blank')).toEqual([]);
    for (const run of ['extract-1', 'extract-2']) {
      expect(named(run)).toEqual(['vanillic acid', '4-hydroxybenzaldehyde', 'vanillin', 'ethyl vanillin']);
    }
  });

  test('says what a second run replaced', () => {
    expect(demo.output).toContain('None of these names was there before');
    expect(runExample('quickstart.ts', `--out=${out}`).output).toContain('replaced files of the same name');
  });
});

describe('The quickstart on six hard runs', () => {
  test('prints what was found beside what was put in, misses nothing, and draws each', () => {
    const hard = path.join(folder, 'hard');
    const { output, status } = runExample('quickstart.ts', '--hard', `--out=${hard}`);
    expect(status).toBe(0);
    for (const name of ['fused-pair', 'hidden-peak', 'rider', 'gradient', 'saturated', 'near-the-noise']) {
      expect(output).toContain(`${name}: `);
      expect(readFileSync(path.join(hard, `hard-${name}.svg`), 'utf8')).toMatch(/<svg[\s\S]*<\/svg>\s*$/);
    }
    // The area of the rider within one per cent of what was put in; its row ends with difference and limits.
    const rider = /rider:[\s\S]*?ethyl vanillin .* (\S+) {2}fit to baseline/.exec(output)!;
    expect(Math.abs(Number(rider[1]))).toBeLessThan(1);
    expect(output).not.toContain('not found');
  });
});

describe('The quickstart on files of the reader', () => {
  const own = path.join(folder, 'own');
  const good = path.join(own, 'Sample 1.csv');
  beforeAll(() => {
    mkdirSync(own);
    runExample('files-to-amount.ts', path.join(folder, 'made'));
    copyFileSync(path.join(folder, 'made', 'extract-1.csv'), good);
  }, 60_000);

  test('integrates what it can, says what it cannot, and fails when one file failed', () => {
    const letter = path.join(own, 'letter.txt');
    writeFileSync(letter, 'Dear colleague,\nplease find the results attached.\n');
    const missing = path.join(own, 'nowhere.csv');
    const out = path.join(own, 'results');
    const { status, output, errors } = runExample('quickstart.ts', letter, missing, good, `--out=${out}`);
    expect(status).toBe(1);
    expect(errors).toContain('letter.txt');
    expect(errors).toContain('there is no file');
    expect(errors).toContain('2 of 3 files');
    expect(output).toContain('baseline to fit'); // between the fused pair
    expect(readdirSync(out).sort()).toEqual(['Sample-1.json', 'Sample-1.peaks.csv', 'Sample-1.svg']);
  });

  test('never writes over a file it read', () => {
    const first = path.join(own, 'a.csv');
    const second = path.join(own, 'a.peaks.csv');
    copyFileSync(good, first);
    copyFileSync(good, second);
    const before = readFileSync(second, 'utf8');
    const { status, errors } = runExample('quickstart.ts', first, second, `--out=${own}`);
    expect(status).toBe(1);
    expect(errors).toContain('which was read');
    expect(readFileSync(second, 'utf8')).toBe(before);
    expect(existsSync(path.join(own, 'a.peaks.peaks.csv'))).toBe(true);
  });

  test('gives files of one name results of their own', () => {
    const twin = path.join(own, 'twin');
    mkdirSync(twin);
    copyFileSync(good, path.join(twin, 'Sample 1.csv'));
    const out = path.join(own, 'twins');
    expect(runExample('quickstart.ts', good, path.join(twin, 'Sample 1.csv'), `--out=${out}`).status).toBe(0);
    expect(
      readdirSync(out)
        .filter((name) => name.endsWith('.svg'))
        .sort(),
    ).toEqual(['Sample-1-2.svg', 'Sample-1.svg']);
  });

  test('explains itself when asked, and when it does not understand', () => {
    const help = runExample('quickstart.ts', '--help');
    expect([help.status, help.output.startsWith('Usage: npm run quickstart')]).toEqual([0, true]);
    const wrong = runExample('quickstart.ts', '--colour=red');
    expect(wrong.status).toBe(2);
    expect(wrong.errors).toContain('--colour');
    const noTime = runExample('quickstart.ts', good, '--injected-at=soon');
    expect([noTime.status, noTime.errors.includes('must be a number')]).toEqual([2, true]);
  });
});

test('The short example goes from files to the amount', () => {
  const { status, output } = runExample('files-to-amount.ts', path.join(folder, 'traces'));
  expect(status).toBe(0);
  const [, value, from, to] = /Vanillin: (\d+) mg\/L, 95 % from (\d+) to (\d+)/.exec(output)!.map(Number);
  expect([from! < 1512, to! > 1512, Math.abs(value! - 1512) < 8]).toEqual([true, true, true]);
});
