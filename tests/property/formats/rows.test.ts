import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parseFile, type ParsedFile } from '../../../src/index.js';

/** Readings a detector could give, to a thousandth. */
const reading = fc.integer({ min: -1e6, max: 1e6 }).map((n) => n / 1000);
const delimiter = fc.constantFrom(',', ';', '\t', ' ');
const end = fc.constantFrom('\n', '\r', '\r\n');

interface Sheet {
  readonly delimiter: string;
  readonly decimal: string;
  readonly end: string;
  readonly rows: readonly (readonly number[])[];
}

const sheet: fc.Arbitrary<Sheet> = fc
  .record({ delimiter, comma: fc.boolean(), end, width: fc.integer({ min: 1, max: 4 }) })
  .chain(({ delimiter: d, comma, end: e, width }) =>
    fc.record({
      delimiter: fc.constant(d),
      decimal: fc.constant(comma && d !== ',' ? ',' : '.'),
      end: fc.constant(e),
      rows: fc.array(fc.array(reading, { minLength: width, maxLength: width }), { minLength: 3, maxLength: 60 }),
    }),
  );

/** The sheet as a file; `spoil` may change a line. */
function write(
  { delimiter: d, decimal, end: e, rows }: Sheet,
  spoil: (line: string, row: number) => string = (line) => line,
): string {
  const width = rows[0]!.length;
  const header = ['Time(min)', ...Array.from({ length: width }, (_, c) => `S${c + 1}(mAU)`)].join(d);
  const lines = rows.map((row, i) =>
    spoil([(i * 0.25).toFixed(2), ...row.map((value) => value.toFixed(3))].join(d).replaceAll('.', decimal), i),
  );
  return [header, ...lines].join(e) + e;
}

function leftOutRows({ diagnostics }: ParsedFile): number {
  return diagnostics.reduce((sum, { rows }) => sum + rows, 0);
}

test('every number written comes back, whatever parts the fields and marks the decimals', () => {
  fc.assert(
    fc.property(sheet, (given) => {
      const { traces, diagnostics, rows } = parseFile(write(given));
      expect(diagnostics).toStrictEqual([]);
      expect(rows).toStrictEqual({ found: given.rows.length, used: given.rows.length, leftOut: 0 });
      expect(traces.map(({ signal }) => Array.from(signal))).toStrictEqual(
        given.rows[0]!.map((_, c) => given.rows.map((row) => Number(row[c]!.toFixed(3)))),
      );
      traces.forEach(({ time }) => time.forEach((t, i) => expect(t).toBe(i * 0.25)));
    }),
  );
});

/** Ways in which a line gets spoiled. */
const damage = fc.constantFrom<(line: string, d: string) => string>(
  (line) => line,
  () => '--- detector lamp off ---',
  (line, d) => line.slice(0, line.indexOf(d)),
  (line, d) => `${line}${d}7`,
  (line, d) => `x${d}${line}`,
  (line, d) => line.replaceAll(new RegExp(`${d}[^${d}]+`, 'g'), `${d}n/a`),
  () => '',
);

test('every line is a row used, a row named in the diagnostics, or a line kept beside the table', () => {
  fc.assert(
    fc.property(
      sheet,
      fc.array(damage, { minLength: 60, maxLength: 60 }),
      fc.array(fc.boolean(), { minLength: 60, maxLength: 60 }),
      (given, damages, where) => {
        // At most every third row is spoiled, so that it is still a table.
        const text = write(given, (line, i) => (i % 3 === 1 && where[i]! ? damages[i]!(line, given.delimiter) : line));
        const file = parseFile(text);
        const lines = text.split(given.end).filter((line) => line !== '').length;
        expect(file.rows.found).toBe(file.rows.used + file.rows.leftOut);
        expect(leftOutRows(file)).toBe(file.rows.leftOut);
        expect(1 + file.metadata.length + file.rows.found).toBe(lines);
      },
    ),
  );
});

test('lines above and below the table change nothing in it', () => {
  const note = fc.stringMatching(/^[A-Za-z]{3,12}: [a-z ]{0,20}$/);
  fc.assert(
    fc.property(sheet, fc.array(note, { maxLength: 5 }), fc.array(note, { maxLength: 5 }), (given, above, below) => {
      const plain = write(given);
      const framed = [...above, plain + below.join(given.end)].join(given.end);
      expect(parseFile(framed).traces).toStrictEqual(parseFile(plain).traces);
    }),
  );
});
