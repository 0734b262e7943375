import { xyInterpolateLinear } from 'ml-spectra-processing';
import { expect, test } from 'vitest';
import { interpolateLinear } from '../../../src/numeric/index.js';
import { repeatableNumbers } from '../../support/traces.js';

test('interpolateLinear gives a point exactly and the straight line between two', () => {
  const x = Float64Array.of(0, 1, 3);
  const y = Float64Array.of(5, 7, 1);
  expect(Array.from(interpolateLinear(x, y, Float64Array.of(0, 0.5, 1, 1, 2, 3)))).toStrictEqual([5, 6, 7, 7, 4, 1]);
});

test('interpolateLinear gives what ml-spectra-processing gives, to the last bit', () => {
  const next = repeatableNumbers(1);
  const x = Float64Array.from({ length: 500 }, (_, i) => i + 0.9 * next());
  const y = x.map(() => 1000 * next() - 300);
  const inside = Float64Array.from({ length: 3000 }, () => x[0]! + next() * (x[499]! - x[0]!));
  const targets = Float64Array.of(...x, ...inside).sort();
  expect(interpolateLinear(x, y, targets)).toStrictEqual(xyInterpolateLinear({ x, y }, targets));
});
