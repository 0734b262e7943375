import { createHash } from 'node:crypto';
import { parseString } from 'fast-csv';
import { describe, expect, test } from 'vitest';
import { peakRows, renderPeakTable, renderResultJson } from '../../../src/report/index.js';
import { csvLines } from '../../../src/report/csv.js';
import { analysisFixture } from '../../support/analysis-fixture.js';

const analysis = analysisFixture({
  name: 'extract, "A"',
  peaks: [
    { at: 3.1, sigma: 0.06, height: 42 / 7, name: 'vanillic acid' },
    { at: 5.6, sigma: 0.08, height: 310, name: '=HYPERLINK("x")' },
    { at: 8, sigma: 0.1, height: -60 },
  ],
});

/** Reads a table with a general CSV library. */
function readCsv(text: string): Promise<Record<string, string>[]> {
  return new Promise((resolve, reject) => {
    const rows: Record<string, string>[] = [];
    parseString<Record<string, string>, Record<string, string>>(text, { headers: true, strictColumnHandling: true })
      .on('data', (row) => rows.push(row))
      .on('error', reject)
      .on('end', () => resolve(rows));
  });
}

describe('peakRows', () => {
  test('every row has the same columns, and what is unknown is undefined', () => {
    const rows = peakRows(analysis.peaks, analysis.units);
    expect(new Set(rows.map((row) => Object.keys(row).join())).size).toBe(1);
    expect(rows[2]).toMatchObject({ peak: 3, name: undefined, 'height [mAU]': -60, 'start by': 'baseline' });
    expect(peakRows([])).toEqual([]);
  });

  test('every column of numbers says its unit', () => {
    for (const row of [...peakRows(analysis.peaks, analysis.units), ...peakRows(analysis.peaks)]) {
      for (const [column, value] of Object.entries(row)) {
        if (typeof value === 'number' && column !== 'peak') expect(column).toMatch(/ \[.+\]$/);
      }
    }
  });
});

describe('renderPeakTable', () => {
  test('comes back from a general CSV reader with every bit of every number', async () => {
    const rows = await readCsv(renderPeakTable(analysis));
    expect(rows).toHaveLength(3);
    rows.forEach((row, i) => {
      const peak = analysis.peaks[i]!;
      expect(Number(row['area [mAU s]'])).toBe(peak.area);
      expect(Number(row['start [min]'])).toBe(peak.start);
      expect(Number(row['width at half height [min]'])).toBe(peak.widths.halfHeight);
      expect(row['run']).toBe('extract, "A"');
    });
    expect(rows[0]!['resolution from tangents [-]']).toBe('');
  });

  test('ends every line with CRLF and has as many fields in each, with or without peaks', () => {
    const empty = renderPeakTable(analysisFixture({}));
    expect(renderPeakTable(analysis).split('\r\n')[0]).toBe(empty.split('\r\n')[0]);
    expect(empty.split('\r\n')).toHaveLength(2);
    expect(renderPeakTable(analysis).endsWith('\r\n')).toBe(true);
  });

  test('a text a spreadsheet would run is defused', async () => {
    expect((await readCsv(renderPeakTable(analysis)))[1]!['name']).toBe(`'=HYPERLINK("x")`);
    const texts = ['=1+1', '+33 1', '-2+3', '@x', '\tx', '\rx', '＝1'];
    expect(
      csvLines(
        ['h'],
        texts.map((text) => [text]),
      )
        .split('\r\n')
        .slice(1, -1)
        .every((line) => /^"?'/.test(line)),
    ).toBe(true);
  });

  test('a name that is a plain number, or only looks dangerous inside, is left alone', () => {
    expect(csvLines(['a', 'b', 'c'], [['-5.3e2', 'a=b', -7.25]])).toBe('a,b,c\r\n-5.3e2,a=b,-7.25\r\n');
  });

  test('a number that is none is refused, not written', () => {
    expect(() => csvLines(['a'], [[NaN]])).toThrow(expect.objectContaining({ code: 'result-not-finite' }));
  });
});

describe('renderResultJson', () => {
  test('is JSON with a format, a version, every peak and the hash in place of the samples', () => {
    const read = JSON.parse(renderResultJson(analysis)) as Record<string, unknown>;
    expect(read).toMatchObject({ format: 'peakwright-analysis', version: 1 });
    expect(read['peaks']).toEqual(JSON.parse(JSON.stringify(analysis.peaks)));
    expect(read['plan']).toEqual(JSON.parse(JSON.stringify(analysis.plan)));
    // Node's own SHA-256 over the same bytes.
    const sha256 = createHash('sha256')
      .update(new Uint8Array(analysis.trace.time.buffer))
      .update(new Uint8Array(analysis.trace.signal.buffer))
      .digest('hex');
    const { hash, samples, time, signal } = read['trace'] as Record<string, unknown>;
    expect([hash, samples, time, signal]).toEqual([sha256, 2401, undefined, undefined]);
  });

  test('does not depend on the order in which fields were set', () => {
    const turned = Object.fromEntries(Object.entries(analysis).reverse()) as unknown as typeof analysis;
    expect(renderResultJson(turned)).toBe(renderResultJson(analysis));
  });

  test('writes typed arrays as arrays', () => {
    const typed = { ...analysis, baseline: { ...analysis.baseline, time: Float64Array.of(0, 1) } };
    const read = JSON.parse(renderResultJson(typed as unknown as typeof analysis)) as typeof analysis;
    expect(read.baseline.time).toEqual([0, 1]);
  });

  test('names the place of a number JSON cannot hold', () => {
    const peaks = [{ ...analysis.peaks[0]!, area: NaN }];
    expect(() => renderResultJson({ ...analysis, peaks })).toThrow('peaks[0].area');
  });
});
