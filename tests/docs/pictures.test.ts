import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { drawExtract, picture } from './extract-picture.js';
import { drawSkims, skimsPicture } from './skims-picture.js';

test('the picture of the README is what the library draws; `npm run docs:pictures` makes it anew', () => {
  expect(drawExtract()).toBe(readFileSync(picture, 'utf8'));
});

test('the picture of the page on dividers likewise', () => {
  expect(drawSkims()).toBe(readFileSync(skimsPicture, 'utf8'));
});
