import { expect, test } from 'vitest';
import { interpolateLinear } from '../../../src/numeric/index.js';
import { thrownBy } from '../../support/contracts.js';

const x = Float64Array.of(0, 1, 3);
const y = Float64Array.of(5, 7, 1);

test('interpolateLinear gives a point exactly and the straight line between two', () => {
  expect(Array.from(interpolateLinear(x, y, Float64Array.of(0, 0.5, 1, 1, 2, 3)))).toStrictEqual([5, 6, 7, 7, 4, 1]);
});

test.each([
  ['targets that do not ascend', [2, 1]],
  ['a target before the first point', [-0.1]],
  ['a target after the last point', [3.1]],
  ['NaN', [Number.NaN]],
])('interpolateLinear refuses %s, where the function behind it answers without a word', (_, targets) => {
  expect(thrownBy(() => interpolateLinear(x, y, Float64Array.from(targets))).code).toBe('option-invalid');
});

test('interpolateLinear refuses points of different numbers', () => {
  expect(thrownBy(() => interpolateLinear(x, Float64Array.of(1, 2), Float64Array.of(1))).code).toBe('option-invalid');
});
