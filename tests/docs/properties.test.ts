import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { readPublicApi, type PublicProperty } from '../support/public-api.js';

const { exports, properties } = readPublicApi();

describe('A doc comment', () => {
  test.each(exports)('stands at $name', ({ documentation }) => {
    expect(documentation.length).toBeGreaterThan(15);
  });

  test('stands at every public property', () => {
    expect(properties.length).toBeGreaterThan(50);
    const silent = properties.filter(({ documentation, isNested }) => documentation === '' && !isNested);
    expect(silent.map(({ name }) => name)).toStrictEqual([]);
  });
});

test('Every public number says its unit in brackets first', () => {
  const numeric = properties.filter(({ isNumeric }) => isNumeric);
  expect(numeric.length).toBeGreaterThan(20);
  const without = numeric.filter(({ documentation }) => !/^\[[^\]]+\] \S/.test(documentation));
  expect(without.map(({ name, documentation }) => `${name}: ${documentation.slice(0, 60)}`)).toStrictEqual([]);
});

test('No public quantity is in samples', () => {
  const wrong = properties.filter(({ isNumeric, documentation }) => isNumeric && /^\[samples?\]/.test(documentation));
  expect(wrong.map(({ name }) => name)).toStrictEqual([]);
});

/**
 * The values of `const defaults = { ... }`, or of any constant whose name ends
 * so, as they are written; one typed after the owner goes first.
 */
function defaultsFor({ owner, key, source }: PublicProperty): string | undefined {
  const candidates = source.statements
    .filter(ts.isVariableStatement)
    .flatMap(({ declarationList }) => [...declarationList.declarations])
    .filter(({ name }) => ts.isIdentifier(name) && /defaults$/i.test(name.text))
    .map((declaration) => ({
      isOwn: new RegExp(`\\b${owner}\\b`).test(declaration.type?.getText() ?? ''),
      value: valueIn(declaration.initializer, key),
    }))
    .filter(({ value }) => value !== undefined && !['undefined', '{}', '[]'].includes(value))
    .sort((a, b) => Number(b.isOwn) - Number(a.isOwn));
  return candidates[0]?.value;
}

function valueIn(node: ts.Expression | undefined, key: string): string | undefined {
  if (node === undefined) return undefined;
  if (ts.isAsExpression(node) || ts.isSatisfiesExpression(node) || ts.isParenthesizedExpression(node)) {
    return valueIn(node.expression, key);
  }
  if (ts.isCallExpression(node)) return valueIn(node.arguments[0], key);
  if (!ts.isObjectLiteralExpression(node)) return undefined;
  const property = node.properties.find(({ name }) => name?.getText() === key);
  return property && ts.isPropertyAssignment(property) ? property.initializer.getText() : undefined;
}

describe('The documented default of an option', () => {
  const options = properties.filter(({ optional, defaultValue }) => optional || defaultValue !== undefined);

  test('is there when the code has one, and equals it', () => {
    const wrong = options
      .map((property) => ({ property, actual: defaultsFor(property) }))
      .filter(({ property, actual }) => actual !== undefined && bare(property.defaultValue) !== bare(actual))
      .map(({ property, actual }) => `${property.name}: documented ${String(property.defaultValue)}, is ${actual!}`);
    expect(wrong).toStrictEqual([]);
  });

  test('is written for every option that may be left out', () => {
    const silent = options.filter(({ owner, defaultValue }) => owner.endsWith('Options') && defaultValue === undefined);
    expect(silent.map(({ name }) => name)).toStrictEqual([]);
  });
});

/** Without the code marks and with one spelling of numbers. */
function bare(text: string | undefined): string | undefined {
  return text?.replace(/^`(.*)`$/, '$1').replaceAll('_', '');
}
