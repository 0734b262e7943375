import { expect, test } from 'vitest';
import { savitzkyGolay } from '../../../src/numeric/index.js';

test('savitzkyGolay leaves its input alone, and a straight line as it is', () => {
  const values = Float64Array.from({ length: 30 }, (_, i) => i);
  const before = values.slice();
  const smoothed = savitzkyGolay(values, { windowSize: 5, polynomial: 2, derivative: 0 });
  expect(values).toStrictEqual(before);
  for (let i = 0; i < 30; i++) expect(smoothed[i]).toBeCloseTo(i, 12);
});
