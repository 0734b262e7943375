import { expect, test } from 'vitest';
import { analyse, renderChromatogram, simulateTrace } from '../../../src/index.js';

const { trace } = simulateTrace({
  duration: 10,
  interval: 0.3,
  seed: 1,
  noise: { white: 0.02 },
  peaks: [4, 4.3, 7].map((retentionTime) => ({ shape: 'gaussian', retentionTime, height: 50, sigma: 0.08 })),
});
const drawn = (svg: string): number => svg.split('class="curve"').length - 1;

test('curves that divide a region are drawn, one for each of its peaks, and named in the legend', () => {
  const svg = renderChromatogram(analyse(trace));
  expect(drawn(svg)).toBe(2);
  expect(svg).toContain('curves that divide it');
});

test('a window without them, or a run divided at its valleys, shows none', () => {
  for (const svg of [
    renderChromatogram(analyse(trace), { from: 6, to: 8 }),
    renderChromatogram(analyse(trace, { divider: 'drop line' })),
  ]) {
    expect(drawn(svg)).toBe(0);
    expect(svg).not.toContain('curves that divide it');
  }
});
