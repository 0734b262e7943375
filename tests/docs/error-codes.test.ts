import { readFileSync } from 'node:fs';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { errorCodes, page, renderErrorCodes } from './error-codes.js';

describe('The page of error codes', () => {
  test('is the table of the code; `npm run docs:errors` makes it anew', async () => {
    expect(readFileSync(page, 'utf8')).toBe(await renderErrorCodes());
  });
});

describe('Error codes', () => {
  test('are found in the code', () => {
    expect(errorCodes.length).toBeGreaterThan(15);
  });

  const sources = ts.sys
    .readDirectory('src', ['.ts'])
    .filter((file) => !file.endsWith('core/error-codes.ts'))
    .map((file) => readFileSync(file, 'utf8'))
    .join('\n');

  test.each(errorCodes)('%s is thrown somewhere and explained in a sentence', (code, meaning) => {
    expect(sources.includes(`'${code}'`), 'used in src').toBe(true);
    expect(meaning).toMatch(/^[A-Z].{15,}\.$/);
    expect(code).toMatch(/^[a-z]+(-[a-z]+)+$/);
  });
});
