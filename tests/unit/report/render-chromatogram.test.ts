import { describe, expect, test } from 'vitest';
import { renderChromatogram } from '../../../src/report/index.js';
import { textWidth } from '../../../src/report/text-width.js';
import { analysisFixture, type FixtureRecipe } from '../../support/analysis-fixture.js';
import { allElements, ofClass, parseStrictXml, pathPoints, type XmlElement } from '../../support/strict-xml.js';

const extract: FixtureRecipe = {
  name: 'Vanilla extract (invented)',
  noise: 0.3,
  level: (t) => 2 + 0.3 * t,
  peaks: [
    { at: 3.1, sigma: 0.06, height: 42, name: 'vanillic acid' },
    { at: 5.6, sigma: 0.08, height: 310, name: 'vanillin', end: 5.784567 },
    { at: 5.95, sigma: 0.085, height: 120, name: 'ethyl vanillin', start: 5.784567 },
    { at: 8, sigma: 0.1, height: -60 },
  ],
};

interface View {
  readonly panel: XmlElement;
  readonly x: (time: number) => number;
  readonly pxPerUnit: number;
}

/** Reads a view back: the time scale from its axis, the signal scale from two of its marks. */
function views(root: XmlElement, from: number, to: number): View[] {
  return ofClass(root, 'panel').map((panel) => {
    const [upright, level] = ofClass(panel, 'axis') as [XmlElement, XmlElement];
    const [, left, , right] = /^M([\d.]+) ([\d.]+)H([\d.]+)$/.exec(level.children[0]!.attributes['d']!)!.map(Number);
    const marks = upright.children.filter(({ name }) => name === 'text');
    const numbers = marks.map(({ text }) => Number(text.replace('−', '-').replace(/\u2009/g, '')));
    const places = marks.map(({ attributes }) => Number(attributes['y']));
    return {
      panel,
      x: (time) => left! + ((time - from) / (to - from)) * (right! - left!),
      pxPerUnit: (places[0]! - places.at(-1)!) / (numbers.at(-1)! - numbers[0]!),
    };
  });
}

describe('renderChromatogram', () => {
  test('draws every area from its start to its end, both between samples', () => {
    const analysis = analysisFixture(extract);
    const root = parseStrictXml(renderChromatogram(analysis, { magnification: 'none' }));
    const [view] = views(root, 0, 12);
    for (const peak of analysis.peaks) {
      const group = ofClass(root, 'peak').find(({ attributes }) => attributes['data-peak'] === peak.id)!;
      const points = pathPoints(ofClass(group, 'area')[0]!.attributes['d']!);
      expect(points[0]![0]).toBeCloseTo(view!.x(peak.start), 1);
      expect(Math.max(...points.map(([x]) => x))).toBeCloseTo(view!.x(peak.end), 1);
      expect(Math.min(...points.map(([x]) => x))).toBeCloseTo(view!.x(peak.start), 1);
    }
  });

  test('shades as much as was integrated: the shoelace area of the path is the area of the peak', () => {
    const analysis = analysisFixture({ peaks: [{ at: 5, sigma: 0.3, height: 80 }], length: 12001 });
    const root = parseStrictXml(renderChromatogram(analysis));
    const [view] = views(root, 0, 12);
    const points = pathPoints(ofClass(root, 'area')[0]!.attributes['d']!);
    let twice = 0;
    points.forEach(([x, y], i) => {
      const [x2, y2] = points[(i + 1) % points.length]!;
      twice += x * y2 - x2 * y;
    });
    const pxPerMinute = view!.x(1) - view!.x(0);
    const area = (Math.abs(twice / 2) / pxPerMinute / view!.pxPerUnit) * 60;
    // Rounding to a hundredth of a pixel and ticks to the same leave about a thousandth.
    expect(area / analysis.peaks[0]!.area).toBeCloseTo(1, 2);
  });

  test('marks both limits of every peak, and joins a drop line to the signal', () => {
    const analysis = analysisFixture(extract);
    const root = parseStrictXml(renderChromatogram(analysis, { magnification: 'none' }));
    const [view] = views(root, 0, 12);
    const limits = ofClass(root, 'limit').map(({ attributes, children }) => ({
      x: Number(/^M([\d.]+)/.exec(attributes['d']!)![1]),
      length: (([, a, b]) => Number(b) - Number(a))(/ ([\d.]+)V([\d.]+)/.exec(attributes['d']!)!),
      text: children[0]!.text,
    }));
    for (const peak of analysis.peaks) {
      for (const at of [peak.start, peak.end]) {
        expect(limits.some(({ x }) => Math.abs(x - view!.x(at)) < 0.02)).toBe(true);
      }
    }
    const drop = limits.filter(({ text }) => text.startsWith('drop line'));
    expect(drop).toHaveLength(2);
    // Two Gaussians above the straight baseline, and the six pixels by which every tick crosses it.
    const valley = 310 * Math.exp(-0.5 * (0.184567 / 0.08) ** 2) + 120 * Math.exp(-0.5 * (0.165433 / 0.085) ** 2);
    for (const { length } of drop) expect(Math.abs(length - 6 - valley * view!.pxPerUnit)).toBeLessThan(1);
  });

  test('draws the baseline each peak stands on from its start to its end only', () => {
    const analysis = analysisFixture(extract);
    const root = parseStrictXml(renderChromatogram(analysis, { magnification: 'none' }));
    const [view] = views(root, 0, 12);
    const lines = ofClass(root, 'baseline').map(({ attributes }) => pathPoints(attributes['d']!));
    expect(lines).toHaveLength(analysis.peaks.length);
    analysis.peaks.forEach((peak, i) => {
      expect(lines[i]![0]![0]).toBeCloseTo(view!.x(peak.start), 1);
      expect(lines[i]!.at(-1)![0]).toBeCloseTo(view!.x(peak.end), 1);
    });
  });

  test('follows the corners of the baseline under a peak', () => {
    const analysis = analysisFixture({ peaks: [{ at: 5, sigma: 0.3, height: 80 }] });
    const bent = { id: 'b1', kind: 'knots', time: [3.8, 4.5, 6.2], value: [0, 20, 0] };
    const root = parseStrictXml(renderChromatogram({ ...analysis, plan: { ...analysis.plan, baselines: [bent] } }));
    const [view] = views(root, 0, 12);
    const area = pathPoints(ofClass(root, 'area')[0]!.attributes['d']!);
    const baseline = pathPoints(ofClass(root, 'baseline')[0]!.attributes['d']!);
    for (const [i, time] of [3.8, 4.5, 6.2].entries()) expect(baseline[i]![0]).toBeCloseTo(view!.x(time), 1);
    expect(area.slice(-3)).toEqual(baseline.toReversed());
    expect(baseline[0]![1] - baseline[1]![1]).toBeCloseTo(20 * view!.pxPerUnit, 0);
  });

  test('shades a bridged stretch as it was integrated: straight, without the spike', () => {
    const analysis = analysisFixture({ peaks: [{ at: 5, sigma: 0.3, height: 80 }] });
    const signal = analysis.trace.signal.map((y, i) => (i === 1001 ? 900 : y));
    const spiked = {
      ...analysis,
      trace: { ...analysis.trace, signal },
      plan: { ...analysis.plan, bridged: [{ from: 5, to: 5.01, reason: 'spike' }] },
    };
    const options = { low: 0, high: 1000 };
    const root = parseStrictXml(renderChromatogram(spiked, options));
    const plain = parseStrictXml(renderChromatogram(analysis, options));
    const top = (picture: XmlElement, name: string): number =>
      Math.min(...pathPoints(ofClass(picture, name)[0]!.attributes['d']!).map(([, y]) => y));
    expect(top(root, 'area')).toBeCloseTo(top(plain, 'area'), 1);
    expect(top(root, 'signal')).toBeLessThan(top(plain, 'signal') - 100);
  });

  test('is well-formed and says the same whatever is in names and texts', () => {
    const attack = `</text><script>alert("1")</script>&lt;\0\u001b\uD800' onload='x`;
    const analysis = analysisFixture({
      name: attack,
      unit: attack,
      peaks: [{ at: 4, sigma: 0.1, height: 50, name: attack }],
      disturbances: [{ kind: attack as 'spike', start: 8, end: 8.1, at: 8, evidence: attack, text: attack }],
      rejected: [{ at: 10, height: 1, test: attack, value: 1, limit: 2, text: attack }],
    });
    const svg = renderChromatogram(analysis, { rejected: true });
    const root = parseStrictXml(svg);
    const names = new Set(allElements(root).map(({ name }) => name));
    expect([...names].sort()).toEqual(['defs', 'desc', 'g', 'path', 'pattern', 'rect', 'svg', 'text', 'title'].sort());
    expect(allElements(root).flatMap(({ attributes }) => Object.keys(attributes))).not.toContain('onload');
    expect(root.children[0]!.text).toBe(
      attack.replaceAll('\0', '\uFFFD').replace('\u001b', '\uFFFD').replace('\uD800', '\uFFFD'),
    );
  });

  test('refers to nothing outside itself', () => {
    const root = parseStrictXml(renderChromatogram(analysisFixture(extract)));
    const elements = allElements(root);
    const ids = elements.flatMap(({ attributes }) => (attributes['id'] === undefined ? [] : [attributes['id']]));
    for (const { attributes } of elements) {
      for (const [name, value] of Object.entries(attributes)) {
        if (name !== 'xmlns') expect(value).not.toMatch(/https?:|href|javascript:/);
        const used = /^url\(#(.+)\)$/.exec(value);
        if (used !== null) expect(ids).toContain(used[1]);
      }
    }
  });

  test('gives the same text twice and two different pictures different pattern names', () => {
    const first = renderChromatogram(analysisFixture(extract));
    expect(renderChromatogram(analysisFixture(extract))).toBe(first);
    const other = renderChromatogram(analysisFixture({ ...extract, name: 'another' }));
    const id = /pattern id="([^"]+)"/;
    expect(id.exec(first)![1]).not.toBe(id.exec(other)![1]);
  });

  test('has a role, a name and a description for those who cannot see it', () => {
    const root = parseStrictXml(renderChromatogram(analysisFixture(extract)));
    expect(root.attributes['role']).toBe('img');
    expect(root.children[0]).toMatchObject({ name: 'title', text: 'Vanilla extract (invented)' });
    expect(root.children[1]!.name).toBe('desc');
    expect(root.children[1]!.text).toContain('vanillin at 5.60 min, ');
  });

  test('names both axes with their units and says when a unit was assumed', () => {
    const analysis = analysisFixture(extract);
    const texts = (svg: string) => allElements(parseStrictXml(svg)).map(({ text }) => text);
    expect(texts(renderChromatogram(analysis))).toEqual(expect.arrayContaining(['time [min]', 'signal [mAU]']));
    const assumed = {
      ...analysis,
      units: {
        ...analysis.units,
        provenance: { ...analysis.units.provenance, signalUnit: { unit: 'mAU', provenance: 'assumed' as const } },
      },
    };
    expect(renderChromatogram(assumed)).toContain('signal unit mAU assumed');
    expect(renderChromatogram(analysis)).not.toContain('assumed');
  });

  test('draws small peaks beside a large one a second time, taller by exactly the factor it states', () => {
    const small = { at: 3, sigma: 0.08, height: 1, name: 'vanillic acid' };
    const analysis = analysisFixture({ noise: 0.01, peaks: [small, { at: 6, sigma: 0.1, height: 1000 }] });
    const svg = renderChromatogram(analysis);
    const [first, second] = views(parseStrictXml(svg), 0, 12);
    const factor = Number(/× (\d+)/.exec(svg)![1]);
    expect(factor).toBeGreaterThanOrEqual(100);
    expect(second!.pxPerUnit / first!.pxPerUnit / factor).toBeCloseTo(1, 2);
    const labels = (view: View) => ofClass(view.panel, 'label').map((label) => label.children.map(({ text }) => text));
    expect(labels(first!)).toEqual([['6.00']]);
    expect(labels(second!)).toEqual([['vanillic acid', '3.00']]);
    expect(second!.pxPerUnit * small.height).toBeGreaterThan(12);
  });

  test('a taller view shows the smallest peaks even when a small dip does not fit beside them', () => {
    const analysis = analysisFixture({
      peaks: [
        { at: 2, sigma: 0.08, height: 1, name: 'tiny' },
        { at: 4, sigma: 0.08, height: -40, name: 'dip' },
        { at: 6, sigma: 0.1, height: 1000 },
      ],
    });
    const [first, second] = views(parseStrictXml(renderChromatogram(analysis)), 0, 12);
    const labels = (view: View) => ofClass(view.panel, 'label').map(({ children }) => children[0]!.text);
    expect(labels(first!)).toEqual(['6.00', 'dip']);
    expect(labels(second!)).toEqual(['tiny']);
    const [top] = pathPoints(ofClass(second!.panel, 'area')[0]!.attributes['d']!)
      .map(([, y]) => y)
      .sort((a, b) => a - b);
    const frame = second!.panel.children.find(({ name }) => name === 'svg')!.attributes;
    expect(top).toBeGreaterThan(Number(frame['y']));
    expect(top).toBeLessThan(Number(frame['y']) + Number(frame['height']));
  });

  test('draws one view when all peaks can be seen, when zoomed in on the signal, or when told so', () => {
    const count = (svg: string) => views(parseStrictXml(svg), 0, 12).length;
    const uneven = analysisFixture({
      peaks: [
        { at: 3, sigma: 0.08, height: 1 },
        { at: 6, sigma: 0.1, height: 1000 },
      ],
    });
    expect(count(renderChromatogram(analysisFixture({ peaks: [{ at: 3, sigma: 0.1, height: 9 }] })))).toBe(1);
    expect(count(renderChromatogram(uneven, { low: -1, high: 20 }))).toBe(1);
    expect(count(renderChromatogram(uneven, { magnification: 'none' }))).toBe(1);
    expect(count(renderChromatogram(uneven))).toBe(2);
  });

  test('labels of many crowded peaks never overlap, and each missing one is counted', () => {
    for (const peaks of [8, 25, 60, 150]) {
      const step = 11 / peaks;
      const analysis = analysisFixture({
        peaks: Array.from({ length: peaks }, (_, i) => ({
          at: 0.5 + i * step,
          sigma: step / 5,
          height: 40 + ((i * 37) % 101),
          name: `component ${i + 1}`,
          start: 0.5 + (i - 0.5) * step,
          end: 0.5 + (i + 0.5) * step,
        })),
      });
      const root = parseStrictXml(renderChromatogram(analysis, { magnification: 'none' }));
      const boxes = ofClass(root, 'label').map((label) => {
        const lines = label.children.map(({ attributes, text }) => ({
          x: Number(attributes['x']),
          y: Number(attributes['y']),
          width: textWidth(text, 15),
        }));
        const turned = label.attributes['transform'] !== undefined;
        const anchor = { start: 0, middle: 0.5, end: 1 }[label.attributes['text-anchor'] ?? 'start']!;
        return {
          left: Math.min(...lines.map((line) => (turned ? line.x - 11 : line.x - anchor * line.width))),
          right: Math.max(...lines.map((line) => (turned ? line.x + 2 : line.x + (1 - anchor) * line.width))),
          top: Math.min(...lines.map((line) => (turned ? line.y - line.width : line.y - 11))),
          bottom: Math.max(...lines.map((line) => (turned ? line.y : line.y + 2))),
        };
      });
      boxes.forEach((a, i) => {
        for (const b of boxes.slice(i + 1)) {
          expect(a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom).toBe(false);
        }
      });
      const missing = peaks - boxes.length;
      const note = /(\d+) labels? left out/.exec(
        allElements(root)
          .map(({ text }) => text)
          .join('\n'),
      );
      expect(Number(note?.[1] ?? 0)).toBe(missing);
      if (peaks <= 25) expect(missing).toBe(0);
    }
  });

  test('marks what was set apart with its kind, and breaks the line at a gap', () => {
    const svg = renderChromatogram(
      analysisFixture({
        gaps: [{ from: 4, to: 5 }],
        disturbances: [
          { kind: 'gap', start: 4, end: 5, at: 4, evidence: 'nothing recorded', text: '' },
          { kind: 'spike', start: 8, end: 8.01, at: 8, evidence: 'one sample', text: '' },
        ],
      }),
    );
    const root = parseStrictXml(svg);
    const words = ofClass(root, 'label').map(({ children }) => children[0]!.text);
    expect(words.sort()).toEqual(['gap', 'spike']);
    expect(ofClass(root, 'signal')[0]!.attributes['d']!.match(/M/g)).toHaveLength(2);
  });

  test('marks rejected candidates with their reason only when asked', () => {
    const recipe = { rejected: [{ at: 3, height: 1, test: 'x', value: 1, limit: 2, text: 'too small by half' }] };
    expect(renderChromatogram(analysisFixture(recipe))).not.toContain('class="rejected"');
    const marked = parseStrictXml(renderChromatogram(analysisFixture(recipe), { rejected: true }));
    expect(ofClass(marked, 'rejected')[0]!.children[0]!.text).toBe('too small by half');
  });

  test.each([
    ['an empty run', {}, {}],
    ['a flat line', { level: () => 5 }, {}],
    ['two samples', { length: 2 }, {}],
    ['huge levels', { level: () => 1e12, noise: 1e9 }, {}],
    ['tiny levels', { noise: 1e-9 }, {}],
    ['a zoom between two samples', extract, { from: 5.601, to: 5.604 }],
    ['a zoom on one sample', extract, { from: 5.5999, to: 5.6001 }],
    ['a zoom outside the record', extract, { from: 20, to: 30 }],
    ['a zoom outside the signal', extract, { low: 1e4, high: 2e4 }],
    ['the smallest picture', extract, { width: 320, height: 240, magnification: 100 }],
    ['a large picture', extract, { width: 8000, height: 8000 }],
    ['no labels', extract, { labels: 'none' }],
  ] as const)('draws %s well-formed and without a number that is none', (_, recipe: FixtureRecipe, options) => {
    const svg = renderChromatogram(analysisFixture(recipe), options);
    expect(() => parseStrictXml(svg)).not.toThrow();
    expect(svg).not.toMatch(/NaN|Infinity|undefined|e[+-]\d+["\s,]/);
  });

  test('cuts areas at the window and draws none that lies outside', () => {
    const root = parseStrictXml(renderChromatogram(analysisFixture(extract), { from: 5.6, to: 7 }));
    const areas = ofClass(root, 'area').map(({ attributes }) => pathPoints(attributes['d']!));
    expect(areas).toHaveLength(2);
    const [view] = views(root, 5.6, 7);
    expect(areas[0]![0]![0]).toBeCloseTo(view!.x(5.6), 2);
  });

  test.each([
    [{ from: 3, to: 2 }, 'to'],
    [{ from: 99 }, 'from'],
    [{ from: NaN }, 'from'],
    [{ low: 5, high: 5 }, 'high'],
    [{ width: 10 }, 'width'],
    [{ height: 1e9 }, 'height'],
    [{ magnification: 0 }, 'magnification'],
    [{ labels: 'all' as 'time' }, 'labels'],
    [{ rejected: 'yes' as unknown as boolean }, 'rejected'],
  ] as const)('refuses %o', (options, field) => {
    expect(() => renderChromatogram(analysisFixture(extract), options)).toThrow(
      expect.objectContaining({ code: 'option-invalid', details: expect.objectContaining({ field }) }),
    );
  });

  test('refuses a mistyped option and a peak whose baseline is missing', () => {
    const analysis = analysisFixture(extract);
    expect(() => renderChromatogram(analysis, { form: 1 } as object)).toThrow('did you mean from?');
    const broken = { ...analysis, plan: { ...analysis.plan, baselines: [] } };
    expect(() => renderChromatogram(broken)).toThrow(expect.objectContaining({ code: 'plan-invalid' }));
  });

  test('draws a million samples in no more text than ten thousand', () => {
    const size = (length: number) => renderChromatogram(analysisFixture({ ...extract, noise: 1, length })).length;
    expect(size(1_000_000)).toBeLessThan(1.3 * size(10_000));
  });
});
