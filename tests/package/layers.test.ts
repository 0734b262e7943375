import { readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';

/** A folder imports from lines above its own and from itself, never from a neighbour on its line. */
const layers: readonly (readonly string[])[] = [
  ['core'],
  ['numeric'],
  ['shapes', 'trace'],
  ['formats', 'signal'],
  ['baseline'],
  ['peaks'],
  ['integration'],
  ['measures'],
  ['analysis'],
  ['calibration', 'suitability', 'comparison', 'steadiness', 'simulate'],
  ['series', 'record'],
  ['report'],
  ['node'],
  ['cli'],
];

/** Which folder may use which outside package, each behind a file of our own. */
const outside: Readonly<Record<string, readonly string[]>> = {
  numeric: ['ml-savitzky-golay-generalized'],
  shapes: ['ml-peak-shape-generator'],
  formats: ['saxes', 'fflate'],
  report: [],
  node: ['fast-csv', 'piscina', 'tinyglobby', 'write-excel-file', 'hyparquet-writer'],
};

/** Folders that may touch Node. */
const shells = ['node', 'cli'];

const src = path.resolve('src');
const files = ts.sys.readDirectory(src, ['.ts']).map((file) => path.relative(src, file));
const folderOf = (file: string) => file.split(path.sep)[0]!;
const layerOf = (folder: string) => layers.findIndex((line) => line.includes(folder));
const packageOf = (specifier: string) =>
  specifier
    .split('/')
    .slice(0, specifier.startsWith('@') ? 2 : 1)
    .join('/');

const imports = files.flatMap((file) =>
  ts
    .preProcessFile(readFileSync(path.join(src, file), 'utf8'))
    .importedFiles.map(({ fileName }) => ({ file, to: fileName })),
);

/** Files of our own that a file names in its imports. */
function names(file: string): string[] {
  return imports
    .filter((entry) => entry.file === file && entry.to.startsWith('.'))
    .map(({ to }) => path.join(path.dirname(file), to).replace(/\.js$/, '.ts'));
}

/** Those that remain when types are gone. */
function needs(file: string): string[] {
  const text = readFileSync(path.join(src, file), 'utf8').replace(/^(?:import|export) type [^;]*;/gm, '');
  const targets = ts.preProcessFile(text).importedFiles.map(({ fileName }) => fileName);
  return targets
    .filter((to) => to.startsWith('.'))
    .map((to) => path.join(path.dirname(file), to).replace(/\.js$/, '.ts'));
}

/** Files reached from one by imports of our own. */
function reached(entry: string, next: (file: string) => string[], seen = new Set<string>()): Set<string> {
  if (seen.has(entry)) return seen;
  seen.add(entry);
  for (const file of next(entry)) reached(file, next, seen);
  return seen;
}

describe('The layers', () => {
  test('hold every folder of the sources', () => {
    const strays = files.filter((file) => file.includes(path.sep) && layerOf(folderOf(file)) < 0);
    expect(strays).toStrictEqual([]);
  });

  test('are no more than two levels deep', () => {
    expect(files.filter((file) => file.split(path.sep).length > 2)).toStrictEqual([]);
  });

  test('import downwards only, through the front door of the folder', () => {
    const wrong = imports
      .filter(({ file, to }) => to.startsWith('.') && file.includes(path.sep))
      .filter(({ file, to }) => {
        const target = path.join(path.dirname(file), to);
        if (folderOf(target) === folderOf(file)) return path.basename(to) === 'index.js';
        return (
          layerOf(folderOf(target)) >= layerOf(folderOf(file)) || target !== path.join(folderOf(target), 'index.js')
        );
      });
    expect(wrong).toStrictEqual([]);
  });

  test('have no circle of files that need each other to load; types may refer to each other', () => {
    const circles = files.filter((file) => needs(file).some((target) => reached(target, needs).has(file)));
    expect(circles).toStrictEqual([]);
  });

  test('touch Node in node/ and cli/ only', () => {
    const wrong = imports.filter(({ file, to }) => to.startsWith('node:') && !shells.includes(folderOf(file)));
    expect(wrong).toStrictEqual([]);
  });

  test('use an outside package only in the folder it was taken for', () => {
    const wrong = imports.filter(
      ({ file, to }) =>
        !to.startsWith('.') && !to.startsWith('node:') && !(outside[folderOf(file)] ?? []).includes(packageOf(to)),
    );
    expect(wrong).toStrictEqual([]);
  });

  test('import outside packages by name, never whole', () => {
    const whole = files.flatMap((file) =>
      [...readFileSync(path.join(src, file), 'utf8').matchAll(/^import (?:type )?\* as .*/gm)]
        .filter(([line]) => !line.includes("'node:"))
        .map(([line]) => `${file}: ${line}`),
    );
    expect(whole).toStrictEqual([]);
  });
});

describe('The browser entry', () => {
  test('reaches neither node/ nor cli/', () => {
    const wrong = [...reached('index.ts', names)].filter((file) => shells.includes(folderOf(file)));
    expect(wrong).toStrictEqual([]);
  });

  test('holds no logic', () => {
    const source = ts.createSourceFile(
      'index.ts',
      readFileSync(path.join(src, 'index.ts'), 'utf8'),
      ts.ScriptTarget.Latest,
    );
    expect(source.statements.filter((statement) => !ts.isExportDeclaration(statement))).toStrictEqual([]);
  });
});
