import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import ts from 'typescript';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { simulateFiles } from '../../examples/simulated-files.js';
import * as library from '../../src/index.js';
import * as node from '../../src/node/index.js';
import { codeBlocks, markdownFiles } from '../support/markdown.js';

/**
 * Code in comments and on pages is run. `value; // => expected` is compared;
 * what a block prints is compared with the text block that follows it. Imports
 * are left out, every public name is at hand. Pages run in a folder that holds
 * `tests/docs/files` and, in `out/traces`, the files of the quickstart.
 */
const names: Record<string, unknown> = { ...library, ...node };

/** Numbers agree to 12 digits; one written with four decimals or more agrees when it is the rounded value. */
function asWritten(expected: unknown): unknown {
  if (typeof expected === 'number' && Number.isFinite(expected)) {
    const decimals = /^-?\d+\.(\d{4,})$/.exec(String(expected))?.[1]?.length;
    return expect.closeTo(expected, decimals ?? 12 - Math.ceil(Math.log10(Math.abs(expected) + 1)));
  }
  if (Array.isArray(expected)) return expected.map(asWritten);
  if (typeof expected === 'object' && expected !== null) {
    return Object.fromEntries(Object.entries(expected).map(([key, value]) => [key, asWritten(value)]));
  }
  return expected;
}

/** Runs a block; answers what it printed and how many values were compared. */
async function run(
  code: string,
  own: Readonly<Record<string, unknown>> = {},
): Promise<{ readonly printed: string; readonly compared: number }> {
  let compared = 0;
  const printed: string[] = [];
  const check = (received: unknown, expected: unknown): void => {
    compared += 1;
    expect(received).toEqual(asWritten(expected));
  };
  const printer = { log: (...values: unknown[]) => printed.push(values.map(String).join(' ')) };
  const checked = code
    .replace(/^import [^;]* from '(?:peakwright|peakwright\/node|node:[a-z/]+)';\n/gm, '')
    .replace(/^((?:const|let) (\w+)\b.*;) \/\/ => (.*)$/gm, '$1 check($2, $3);')
    .replace(/^(?!(?:const|let) )(.*); \/\/ => (.*)$/gm, 'check($1, $2);');
  const options = { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext };
  const script = ts.transpile(`const example = async () => {\n${checked}\n}`, options);
  const values = { ...names, ...own };
  // eslint-disable-next-line @typescript-eslint/no-implied-eval, no-new-func -- running what the documentation says is the test
  const make = new Function('check', 'console', ...Object.keys(values), `${script}\nreturn example;`) as (
    ...args: unknown[]
  ) => () => Promise<void>;
  await make(check, printer, ...Object.values(values))();
  return { printed: printed.join('\n'), compared };
}

const inComments = ts.sys.readDirectory('src', ['.ts']).flatMap((place) => {
  const text = readFileSync(place, 'utf8');
  const file = path.relative('.', place);
  return [...text.matchAll(/^ *\* ```ts\n(.*?)^ *\* ```$/gms)].map((match) => ({
    file,
    line: text.slice(0, match.index).split('\n').length,
    code: match[1]!.replace(/^ *\* ?/gm, ''),
  }));
});

describe('Examples in comments', () => {
  test.each(inComments)('$file:$line gives what it says', async ({ file, code }) => {
    const own = (await import(path.resolve(file))) as Record<string, unknown>;
    const { compared } = await run(code, own);
    expect(compared, 'values compared with `// =>`').toBeGreaterThan(0);
  });
});

const onPages = markdownFiles()
  .flatMap(codeBlocks)
  .filter(({ language }) => ['ts', 'js'].includes(language));

describe('Code on pages', () => {
  const top = process.cwd();
  const folder = mkdtempSync(path.join(os.tmpdir(), 'peakwright-pages-'));
  beforeAll(() => {
    cpSync('tests/docs/files', folder, { recursive: true });
    const traces = path.join(folder, 'out', 'traces');
    mkdirSync(traces, { recursive: true });
    for (const { name, text } of simulateFiles()) writeFileSync(path.join(traces, name), text);
    process.chdir(folder);
  });
  afterAll(() => {
    process.chdir(top);
    rmSync(folder, { recursive: true });
  });

  test('stands in the README', () => {
    expect(onPages.map(({ file }) => file)).toContain('README.md');
  });

  test.each(onPages)('$file:$line runs and prints what it says', async ({ code, output }) => {
    const { printed } = await run(code);
    if (output !== undefined) expect(printed.trimEnd()).toBe(output.trimEnd());
    expect(printed !== '' && output === undefined, 'prints, and no text block follows').toBe(false);
  });
});

describe('The runner of examples', () => {
  test('compares values of expressions and of constants', async () => {
    const { compared } = await run(
      'const a = 1 + 1; // => 2\n[a].concat([3]); // => [2, 3]\nawait Promise.resolve(a);\n',
    );
    expect(compared).toBe(2);
  });

  test('fails on a wrong value', async () => {
    await expect(run('const a = 1 + 1; // => 3')).rejects.toThrow('expected 2 to deeply equal');
    await expect(run('[2.00007]; // => [2.0001]').then(() => 'passes')).resolves.toBe('passes');
    await expect(run('[2.0004]; // => [2.0003]')).rejects.toThrow('to deeply equal');
    await expect(run('1 + 1; // => 3')).rejects.toThrow('expected 2 to deeply equal');
  });

  test('collects what is printed', async () => {
    const { printed } = await run("import { createTrace } from 'peakwright';\nconsole.log('a', typeof createTrace);");
    expect(printed).toBe('a function');
  });
});
