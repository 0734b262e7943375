import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { createRandom } from '../../../src/simulate/index.js';

const cases = JSON.parse(readFileSync(new URL('./random.json', import.meta.url), 'utf8')) as {
  seed: number;
  stream: number;
  numbers: number[];
}[];

describe('createRandom', () => {
  test.each(cases)('gives the numbers of a second implementation for seed $seed, stream $stream', (expected) => {
    const random = createRandom(expected.seed, expected.stream);
    expect(expected.numbers.map(() => random.whole())).toEqual(expected.numbers);
  });
});
