import fc from 'fast-check';
import { expect, test } from 'vitest';
import { overlap, placeLabels, type LabelRequest } from '../../../src/report/place-labels.js';

const width = 600;
const height = 300;

const request = fc.record({
  x: fc.integer({ min: 0, max: width }),
  y: fc.integer({ min: 30, max: height }),
  side: fc.constantFrom('above' as const, 'below' as const),
  name: fc.string({ maxLength: 24 }),
});

test('labels overlap neither each other nor the line, and stay in their field', () => {
  fc.assert(
    fc.property(fc.array(request, { maxLength: 40 }), fc.boolean(), (things, upright) => {
      const upper = new Float64Array(width).fill(height);
      const lower = new Float64Array(width).fill(0);
      for (const { x, y } of things) {
        for (let column = Math.max(0, x - 4); column < Math.min(width, x + 5); column++) {
          upper[column] = Math.min(upper[column]!, y);
          lower[column] = Math.max(lower[column]!, y);
        }
      }
      const requests: LabelRequest[] = things.map(({ x, y, side, name }) => ({
        x,
        y,
        side,
        versions: [upright ? [`1.23 ${name}`] : [name, '1.23'], ['1.23']],
      }));
      const bounds = { left: 0, top: 0, right: width, bottom: height };
      const placed = placeLabels(requests, { bounds, upper, lower, taken: [], upright, fontSize: 15 });
      for (const [i, { box, index }] of placed.entries()) {
        expect(box.left >= 0 && box.right <= width && box.top >= 0 && box.bottom <= height).toBe(true);
        for (const other of placed.slice(i + 1)) expect(overlap(box, other.box)).toBe(false);
        for (const other of placed) {
          if (other === placed[i] || other.leader === undefined) continue;
          const [x1, y1, x2, y2] = other.leader;
          for (let step = 0; step <= 100; step++) {
            const x = x1 + ((x2 - x1) * step) / 100;
            const y = y1 + ((y2 - y1) * step) / 100;
            expect(x > box.left && x < box.right && y > box.top && y < box.bottom).toBe(false);
          }
        }
        const sits = box.bottom <= requests[index]!.y || box.top >= requests[index]!.y;
        expect(sits).toBe(true);
        for (let column = Math.ceil(box.left); column < Math.floor(box.right); column++) {
          const [top, bottom] = [upper[column]!, lower[column]!];
          expect(box.bottom <= top || box.top >= bottom).toBe(true);
        }
      }
      expect(new Set(placed.map(({ index }) => index)).size).toBe(placed.length);
    }),
    { numRuns: 150 },
  );
});

test('the same labels get the same places', () => {
  const requests: LabelRequest[] = Array.from({ length: 30 }, (_, i) => ({
    x: 20 * i,
    y: 150,
    side: 'above',
    versions: [[`component ${i}`, '1.00'], ['1.00']],
  }));
  const field = {
    bounds: { left: 0, top: 0, right: 600, bottom: 300 },
    upper: new Float64Array(600).fill(150),
    lower: new Float64Array(600).fill(150),
    taken: [],
    upright: false,
    fontSize: 15,
  };
  expect(placeLabels(requests, field)).toEqual(placeLabels(requests, field));
  expect(placeLabels(requests, field).length).toBeGreaterThan(15);
});
