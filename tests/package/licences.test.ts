import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

interface Locked {
  readonly version: string;
  readonly license?: string;
  readonly dev?: boolean;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly optionalDependencies?: Readonly<Record<string, string>>;
}

/** Licences without any duty beyond naming; for tools that are not installed with the package a few more. */
const allowed = ['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', '0BSD', 'CC0-1.0'];
const allowedForTools = [...allowed, 'BlueOak-1.0.0', 'Python-2.0', 'CC-BY-3.0', 'CC-BY-4.0', 'Unlicense'];

const { packages } = JSON.parse(readFileSync('package-lock.json', 'utf8')) as {
  readonly packages: Readonly<Record<string, Locked>>;
};

/** What `npm install peakwright` brings: the closure of the dependencies. */
function installed(): ReadonlyMap<string, Locked> {
  const found = new Map<string, Locked>();
  const visit = (from: string): void => {
    const { dependencies, optionalDependencies } = packages[from]!;
    for (const name of Object.keys({ ...dependencies, ...optionalDependencies })) {
      const place = resolve(from, name);
      if (place === undefined || found.has(place)) continue;
      found.set(place, packages[place]!);
      visit(place);
    }
  };
  visit('');
  return found;
}

/** The nearest `node_modules` above, as Node looks. */
function resolve(from: string, name: string): string | undefined {
  for (let place = from; ; place = place.slice(0, Math.max(0, place.lastIndexOf('node_modules/') - 1))) {
    const candidate = `${place === '' ? '' : `${place}/`}node_modules/${name}`;
    if (candidate in packages) return candidate;
    if (place === '') return undefined;
  }
}

const closure = [...installed()].map(([place, { license }]) => ({
  name: place.slice(place.lastIndexOf('node_modules/') + 'node_modules/'.length),
  licence: license ?? 'none stated',
}));

describe('Every package a user installs', () => {
  test('is under a licence without conditions on the user', () => {
    expect(closure.length).toBeGreaterThan(2);
    expect(closure.filter(({ licence }) => !allowed.includes(licence))).toStrictEqual([]);
  });

  test('is named in NOTICE with its licence, and nothing else is', () => {
    const named = [...readFileSync('NOTICE', 'utf8').matchAll(/^(\S+) {2,}(\S+)(?: \*)?$/gm)].map(
      ([, name, licence]) => `${name!} ${licence!}`,
    );
    expect(named.sort()).toStrictEqual([...new Set(closure.map(({ name, licence }) => `${name} ${licence}`))].sort());
  });
});

test('Every tool of the project is under a permissive licence', () => {
  const tools = Object.entries(packages).filter(([place]) => place !== '');
  const wrong = tools
    .filter(([, { license }]) => !allowedForTools.includes(license ?? 'none stated'))
    .map(([place, { license }]) => `${place}: ${license ?? 'none stated'}`);
  expect(wrong).toStrictEqual([]);
});

test('Versions of dependencies are exact, because a new version can change a number', () => {
  const { dependencies = {}, devDependencies = {} } = JSON.parse(readFileSync('package.json', 'utf8')) as Record<
    string,
    Readonly<Record<string, string>>
  >;
  const loose = Object.entries({ ...dependencies, ...devDependencies }).filter(([, v]) => !/^\d+\.\d+\.\d+$/.test(v));
  expect(loose).toStrictEqual([]);
});
