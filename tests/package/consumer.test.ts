import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

/**
 * The package as a stranger gets it: packed, installed into an empty project
 * and used from JavaScript and from TypeScript.
 */
const project = mkdtempSync(path.join(tmpdir(), 'peakwright-consumer-'));
const inProject = (file: string) => path.join(project, file);
const tsc = path.resolve('node_modules/typescript/bin/tsc');

interface Locked {
  readonly version: string;
  readonly dev?: boolean;
  readonly peer?: boolean;
}

function execute(command: string, args: readonly string[]): string {
  return execFileSync(command, args, { cwd: project, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
}

/** Runs a command whose complaints go to its standard output, and shows them. */
function passes(command: string, args: readonly string[]): void {
  try {
    execute(command, args);
  } catch (error) {
    throw new Error(String((error as { stdout?: unknown }).stdout), { cause: error });
  }
}

/** The lock file of the stranger's project: our own versions, so that installing needs no look at the registry's lists. */
function lockFile(tarball: string): unknown {
  const { packages } = JSON.parse(readFileSync('package-lock.json', 'utf8')) as {
    readonly packages: Readonly<Record<string, Locked>>;
  };
  const { name, version, license, dependencies, engines } = JSON.parse(readFileSync('package.json', 'utf8')) as Record<
    string,
    unknown
  >;
  const installed = Object.entries(packages).filter(([place, entry]) => place !== '' && !entry.dev && !entry.peer);
  return {
    name: 'consumer',
    version: '1.0.0',
    lockfileVersion: 3,
    requires: true,
    packages: {
      '': { name: 'consumer', version: '1.0.0', dependencies: { peakwright: `file:${tarball}` } },
      'node_modules/peakwright': { name, version, resolved: `file:${tarball}`, license, dependencies, engines },
      ...Object.fromEntries(installed),
    },
  };
}

beforeAll(() => {
  const packed = execFileSync('npm', ['pack', '--ignore-scripts', '--silent', '--pack-destination', project], {
    encoding: 'utf8',
  });
  const tarball = packed.trim();
  const manifest = { name: 'consumer', version: '1.0.0', private: true, type: 'module' };
  writeFileSync(
    inProject('package.json'),
    JSON.stringify({ ...manifest, dependencies: { peakwright: `file:${tarball}` } }),
  );
  writeFileSync(inProject('package-lock.json'), JSON.stringify(lockFile(tarball)));
  execute('npm', ['ci', '--prefer-offline', '--ignore-scripts', '--no-audit', '--no-fund']);
});

afterAll(() => {
  rmSync(project, { recursive: true, force: true });
});

describe('The packed package', () => {
  test('holds the built files, their sources, the licence and the notices, and nothing of the tests', () => {
    const files = readdirSync(inProject('node_modules/peakwright')).sort();
    expect(files).toStrictEqual(['LICENSE', 'NOTICE', 'README.md', 'dist', 'package.json', 'src']);
  });

  test('declares its types without a type of any other package', () => {
    const dist = inProject('node_modules/peakwright/dist');
    const foreign = readdirSync(dist, { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.d.ts'))
      .flatMap((file) =>
        [...readFileSync(path.join(dist, file), 'utf8').matchAll(/(?:from|import\() ?['"]([^.'"][^'"]*)['"]/g)].map(
          ([, specifier]) => `${file}: ${specifier!}`,
        ),
      )
      .filter((line) => !/^(node|cli)\/.*: node:/.test(line));
    expect(foreign).toStrictEqual([]);
  });

  test('is used from JavaScript', () => {
    writeFileSync(
      inProject('use.js'),
      `
      import { analyse, createTrace, isPeakwrightError } from 'peakwright';
      const time = Array.from({ length: 1201 }, (_, i) => i / 200);
      const signal = time.map((t) => 100 * Math.exp(-0.5 * ((t - 3) / 0.05) ** 2) + Math.sin(i(t)) * 0.01);
      function i(t) { return t * 7919; }
      const { peaks } = analyse(createTrace({ time, signal, timeUnit: 'min', signalUnit: 'mAU' }));
      let code = '';
      try { createTrace({ time: [0, 1], signal: [1], timeUnit: 'min', signalUnit: 'mAU' }); }
      catch (error) { code = isPeakwrightError(error) ? error.code : String(error); }
      console.log(JSON.stringify({ count: peaks.length, at: peaks[0].retentionTime, area: peaks[0].area, code }));
      `,
    );
    const { count, at, area, code } = JSON.parse(execute('node', ['use.js'])) as Record<string, unknown>;
    expect(count).toBe(1);
    expect(code).toBe('trace-invalid');
    expect(at).toBeCloseTo(3, 3);
    // Area of a Gaussian: height × sigma × sqrt(2 pi), here in mAU s.
    const exact = 100 * 0.05 * 60 * Math.sqrt(2 * Math.PI);
    expect(Math.abs((area as number) / exact - 1)).toBeLessThan(0.002);
  });

  test('reads a file through its entry for Node', () => {
    writeFileSync(
      inProject('run.csv'),
      ['Time (min),Signal (mAU)', ...Array.from({ length: 50 }, (_, i) => `${(i / 10).toFixed(1)},${i % 7}`)].join(
        '\n',
      ),
    );
    writeFileSync(
      inProject('read.js'),
      `
      import { readTrace } from 'peakwright/node';
      const trace = await readTrace('run.csv');
      console.log(JSON.stringify([trace.time.length, trace.time[10], trace.signal[10], trace.signalUnit]));
      `,
    );
    expect(JSON.parse(execute('node', ['read.js']))).toStrictEqual([50, 1, 3, 'mAU']);
  });

  test('keeps its inner files to itself', () => {
    writeFileSync(inProject('deep.js'), `import 'peakwright/dist/core/index.js';`);
    expect(() => execute('node', ['deep.js'])).toThrow('ERR_PACKAGE_PATH_NOT_EXPORTED');
  });

  test.each([
    ['nodenext', 'nodenext'],
    ['bundler', 'preserve'],
  ])('is used from strict TypeScript with module resolution %s', (moduleResolution, module) => {
    writeFileSync(
      inProject('use.ts'),
      `
      import { analyse, createTrace, defineMethod, type Analysis, type Peak, type Trace } from 'peakwright';
      const trace: Trace = createTrace({ time: [0, 1, 2], signal: new Float32Array(3), timeUnit: 'min', signalUnit: 'mAU' });
      const analysis: Analysis = analyse(trace, defineMethod());
      const peaks: readonly Peak[] = analysis.peaks;
      export const areas: number[] = peaks.map((peak) => peak.area);
      // @ts-expect-error a trace needs a signal
      createTrace({ time: [0, 1, 2] });
      // @ts-expect-error results are read-only
      analysis.peaks = [];
      `,
    );
    const compilerOptions = {
      strict: true,
      exactOptionalPropertyTypes: true,
      noEmit: true,
      target: 'es2022',
      lib: ['es2023'],
      types: [],
      module,
      moduleResolution,
      skipLibCheck: false,
    };
    writeFileSync(inProject('tsconfig.json'), JSON.stringify({ compilerOptions, files: ['use.ts'] }));
    passes('node', [tsc, '-p', '.']);
  });
});
