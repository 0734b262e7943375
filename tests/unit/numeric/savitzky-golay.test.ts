import { expect, test, vi } from 'vitest';
import { savitzkyGolay } from '../../../src/numeric/index.js';
import { thrownBy } from '../../support/contracts.js';

const values = Float64Array.from({ length: 30 }, (_, i) => i);

test.each([
  [{ windowSize: 4, polynomial: 2, derivative: 0 }, 'windowSize'],
  [{ windowSize: 3, polynomial: 2, derivative: 0 }, 'windowSize'],
  [{ windowSize: 31, polynomial: 2, derivative: 0 }, 'windowSize'],
  [{ windowSize: 5, polynomial: 5, derivative: 0 }, 'polynomial'],
  [{ windowSize: 9, polynomial: 6, derivative: 0 }, 'polynomial'],
  [{ windowSize: 9, polynomial: 2, derivative: 3 }, 'derivative'],
])('savitzkyGolay refuses %o, where the function behind it prints or answers nonsense', (fit, field) => {
  const print = vi.spyOn(console, 'warn');
  expect(thrownBy(() => savitzkyGolay(values, fit))).toMatchObject({ code: 'option-invalid', details: { field } });
  expect(print).not.toHaveBeenCalled();
});

test('savitzkyGolay leaves its input alone', () => {
  const before = values.slice();
  savitzkyGolay(values, { windowSize: 5, polynomial: 2, derivative: 0 });
  expect(values).toStrictEqual(before);
});
