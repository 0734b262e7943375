import fc from 'fast-check';
import { expect, test } from 'vitest';
import { placeLabels, type LabelRequest, type PlacedLabel } from '../../../src/report/place-labels.js';

const width = 600;
const height = 300;
const bounds = { left: 0, top: 0, right: width, bottom: height };

const request = fc.record({
  x: fc.integer({ min: 0, max: width }),
  y: fc.integer({ min: 30, max: height }),
  down: fc.boolean(),
  name: fc.string({ maxLength: 24 }),
});

/** Whether a straight line has a point inside a label, by looking at many of its points. */
function passes([x1, y1]: readonly [number, number], [x2, y2]: readonly [number, number], label: PlacedLabel): boolean {
  return Array.from({ length: 201 }, (_, i) => i / 200).some((share) => {
    const x = x1 + share * (x2 - x1);
    const y = y1 + share * (y2 - y1);
    return x > label.left && x < label.right && y > label.top && y < label.bottom;
  });
}

test('labels overlap neither each other nor a line nor a leader, and stay in their field', () => {
  fc.assert(
    fc.property(fc.array(request, { maxLength: 40 }), fc.boolean(), (things, upright) => {
      const lines = things.map(({ x, y, down }) => {
        const foot = down ? y - 25 : y + 25;
        return [
          [x - 12, foot],
          [x, y],
          [x + 12, foot],
        ] as const;
      });
      const requests: LabelRequest[] = things.map(({ x, y, down, name }) => ({
        x,
        y,
        down,
        versions: [upright ? [`1.23 ${name}`] : [name, '1.23'], ['1.23']],
      }));
      const placed = placeLabels(requests, { ...bounds, lines, upright });
      for (const [i, label] of placed.entries()) {
        expect(label.left >= 0 && label.right <= width && label.top >= 0 && label.bottom <= height).toBe(true);
        for (const other of placed.slice(i + 1)) {
          const apart = label.right <= other.left || other.right <= label.left;
          expect(apart || label.bottom <= other.top || other.bottom <= label.top).toBe(true);
        }
        for (const { leader } of placed) {
          if (leader.length > 0) expect(passes(leader[0]!, leader[1]!, label)).toBe(false);
        }
        for (const [start, tip, end] of lines) {
          expect(passes(start, tip, label) || passes(tip, end, label)).toBe(false);
        }
        const { y, down } = label.request;
        expect(down ? label.top > y : label.bottom < y).toBe(true);
      }
      expect(new Set(placed.map((label) => label.request)).size).toBe(placed.length);
    }),
    { numRuns: 150 },
  );
});

test('the same labels get the same places', () => {
  const level = [
    [0, 150],
    [600, 150],
  ] as const;
  for (const [upright, least] of [
    [false, 10],
    [true, 29],
  ] as const) {
    const requests = Array.from({ length: 30 }, (_, i): LabelRequest => ({
      x: 20 * i,
      y: 150,
      versions: [upright ? [`1.00 component ${i}`] : [`component ${i}`, '1.00'], ['1.00']],
    }));
    const field = { ...bounds, lines: [level], upright };
    expect(placeLabels(requests, field)).toEqual(placeLabels(requests, field));
    expect(placeLabels(requests, field).length).toBeGreaterThanOrEqual(least);
  }
});
