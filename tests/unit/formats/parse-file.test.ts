import { describe, expect, test } from 'vitest';
import { parseFile, parseTrace, type FileOptions, type ParsedFile } from '../../../src/index.js';

/** The traces as plain numbers, times in minutes. */
function numbersOf({ traces }: Pick<ParsedFile, 'traces'>): Record<string, { time: number[]; signal: number[] }> {
  return Object.fromEntries(
    traces.map(({ time, signal, meta }) => [
      meta.channel ?? '',
      { time: Array.from(time), signal: Array.from(signal) },
    ]),
  );
}

const lines = (...text: string[]): string => `${text.join('\n')}\n`;
const vanilla = { Signal: { time: [0, 0.5, 1], signal: [1.5, 2.5, -1234.5] } };
const stated: FileOptions = { timeUnit: 'min', signalUnit: 'mAU' };

describe('A simple file is read without a setting', () => {
  test.each<[string, string]>([
    ['commas and points', 'Time (min),Signal (mAU)\n0,1.5\n0.5,2.5\n1,-1234.5\n'],
    ['semicolons and points', 'Time (min);Signal (mAU)\n0;1.5\n0.5;2.5\n1;-1234.5\n'],
    ['semicolons and commas', 'Zeit/min;Signal/mAU\n0,0;1,5\n0,5;2,5\n1,0;-1234,5\n'],
    ['tabs and points', 'time_min\tSignal_mAU\n0\t1.5\n0.5\t2.5\n1\t-1234.5\n'],
    ['tabs and commas', 'min\tSignal [mAU]\n0,0\t1,5\n0,5\t2,5\n1,0\t-1234,5\n'],
    ['blanks and points', '# Time (min)   Signal (mAU)\n  0.0      1.5\n  0.5      2.5\n  1.0  -1234.5\n'],
    ['blanks and commas', 'Time  Signal\nmin   mAU\n0,0 1,5\n0,5 2,5\n1,0 -1234,5\n'],
    [
      'commas for both, the numbers in quotes',
      '"Time (min)","Signal (mAU)"\n"0,0","1,5"\n"0,5","2,5"\n"1,0","-1234,5"\n',
    ],
    ['commas for both, without quotes', 'Time (min),Signal (mAU)\n0,0,1,5\n0,5,2,5\n1,0,-1234,5\n'],
    ['carriage returns', 'Time (min),Signal (mAU)\r0,1.5\r0.5,2.5\r1,-1234.5\r'],
    ['carriage returns and line feeds', 'Time (min),Signal (mAU)\r\n0,1.5\r\n0.5,2.5\r\n1,-1234.5\r\n'],
    ['no line break at the end', 'Time (min),Signal (mAU)\n0,1.5\n0.5,2.5\n1,-1234.5'],
    ['blank lines between rows', 'Time (min),Signal (mAU)\n\n0,1.5\n\n0.5,2.5\n,\n1,-1234.5\n\n\n'],
    ['a comma at the end of each row', 'Time (min),Signal (mAU),\n0,1.5,\n0.5,2.5,\n1,-1234.5,\n'],
    ['blanks around the fields', ' Time (min) , Signal (mAU)\n 0 , 1.5 \n 0.5 ,  2.5\n 1,\t-1234.5\n'],
    ['blanks inside quotes', '"Time (min)","Signal (mAU)"\n"  0"," 1.5"\n"0.5","2.5 "\n"  1"," -1234.5"\n'],
    ['exponents', 'Time (min),Signal (mAU)\n0E0,15e-1\n5e-1,.25E+1\n1.,-1.2345e3\n'],
    ['the minus sign of typesetting', 'Time (min),Signal (mAU)\n0,+1.5\n0.5,2.5\n1,\u22121234.5\n'],
    ['quoted header with line breaks', '"Time\n(min)","Signal\n(mAU)"\n0,1.5\n0.5,2.5\n1,-1234.5\n'],
    ['a byte order mark', '\ufeffTime (min),Signal (mAU)\n0,1.5\n0.5,2.5\n1,-1234.5\n'],
    ['seconds', 'Time (s),Signal (mAU)\n0,1.5\n30,2.5\n60,-1234.5\n'],
    ['an unclosed quote', 'Time (min),"Signal (mAU)\n0,1.5\n0.5,2.5\n1,-1234.5\n'],
  ])('%s', (_, text) => {
    const file = parseFile(text);
    expect(numbersOf(file)).toStrictEqual(vanilla);
    expect(file.rows).toStrictEqual({ found: 3, used: 3, leftOut: 0 });
    expect(file.diagnostics).toStrictEqual([]);
    const [trace] = file.traces;
    expect(trace!.signalUnit).toBe('mAU');
    expect(trace!.meta.signalUnit).toStrictEqual({ unit: 'mAU', provenance: 'inferred' });
    expect(trace!.meta.timeUnit.provenance).toBe('inferred');
  });

  test('a decimal comma with three places is no thousand', () => {
    const file = parseFile('Zeit/min;Signal/mAU\n0,001;1,234\n0,002;1,235\n');
    expect(file.traces[0]!.signal[0]).toBe(1.234);
    expect(file.reading).toStrictEqual({ delimiter: 'semicolon', decimal: ',', encoding: 'utf-8' });
  });

  test('grouped thousands are no number, and that is said', () => {
    const { traces, diagnostics } = parseFile('Zeit/min;Signal/mAU\n0;1,5\n1;1.234,5\n2;2,5\n3;1 234,5\n4;3,5\n');
    expect(Array.from(traces[0]!.signal)).toStrictEqual([1.5, 2.5, 3.5]);
    expect(diagnostics.map(({ line, found }) => [line, found])).toStrictEqual([
      [3, '1;1.234,5'],
      [5, '3;1 234,5'],
    ]);
  });
});

describe('What stands around the table is kept', () => {
  const file = parseFile(
    lines(
      'Sample;vanilla extract 3',
      'Wavelength;280 nm',
      '',
      'Time;Signal',
      '[min];[mAU]',
      '0,0;1',
      '0,1;2',
      '',
      'end of run',
    ),
  );

  test('with its line numbers', () => {
    expect(file.metadata).toStrictEqual([
      { line: 1, text: 'Sample;vanilla extract 3' },
      { line: 2, text: 'Wavelength;280 nm' },
      { line: 9, text: 'end of run' },
    ]);
  });

  test('and a row of units under the header is a part of the header', () => {
    expect(file.traces[0]!.meta).toMatchObject({
      channel: 'Signal',
      timeUnit: { unit: 'min' },
      signalUnit: { unit: 'mAU' },
    });
  });
});

describe('Several signals', () => {
  const text = lines('min\tUV 280 nm [mAU]\tUV 254 nm [AU]\tpump (bar)', '0\t1\t2\t3', '1\t2\t3\t4', '2\t3\t4\t5');

  test('become one trace each, with unit and wavelength', () => {
    const { traces } = parseFile(text, { file: 'run-7.txt' });
    expect(traces.map(({ signalUnit, meta }) => [meta.channel, signalUnit, meta.wavelength, meta.file])).toStrictEqual([
      ['UV 280 nm', 'mAU', 280, 'run-7.txt'],
      ['UV 254 nm', 'AU', 254, 'run-7.txt'],
      ['pump', 'bar', undefined, 'run-7.txt'],
    ]);
  });

  test.each<[FileOptions['channel']]>([['UV 254 nm'], ['UV 254 nm [AU]'], [3]])(
    'channel %o picks one of them',
    (channel) => {
      const traces = parseTrace(text, { channel });
      expect(traces.map(({ signal }) => Array.from(signal))).toStrictEqual([[2, 3, 4]]);
    },
  );

  test('a channel that is not there is an error that lists those that are', () => {
    expect(() => parseTrace(text, { channel: 'RI' })).toThrow(
      'parseTrace: the text has no single column "RI"; there are UV 280 nm (column 2), UV 254 nm (column 3), pump (column 4). Pass one of these names or numbers as channel.',
    );
  });

  test('of tables side by side the first is read, and the others when their times are asked for', () => {
    const text2 = lines('min;A (mAU);min;B (mV)', '0;1;0;9', '1;2;0,5;8', '2;3;1;7', ';;1,5;6');
    const file = parseFile(text2);
    expect(numbersOf(file)).toStrictEqual({ A: { time: [0, 1, 2], signal: [1, 2, 3] } });
    expect(file.diagnostics.map(({ code, column }) => [code, column])).toStrictEqual([
      ['column-left-out', 3],
      ['column-left-out', 4],
    ]);
    expect(file.diagnostics[1]!.message).toContain('pass timeColumn: 3 to read it');
    expect(numbersOf(parseFile(text2, { timeColumn: 3 }))).toStrictEqual({
      B: { time: [0, 0.5, 1, 1.5], signal: [9, 8, 7, 6] },
    });
  });

  test('of one name are told apart by their columns', () => {
    const { traces } = parseFile(lines('min,UV (mAU),UV (mAU)', '0,1,2', '1,2,3'));
    expect(traces.map(({ meta }) => meta.channel)).toStrictEqual(['UV', 'UV (column 3)']);
  });

  test('a second table below the first is an error that names its first line', () => {
    const two = lines('Time (min),A (mAU)', '0,1', '0.1,2', '', 'Detector 2', 'Time (min),B (mV)', '0,3', '0.1,4');
    expect(() => parseFile(two)).toThrow(
      expect.objectContaining({ code: 'trace-time-not-increasing', details: expect.objectContaining({ row: 7 }) }),
    );
  });

  test('a count of rows and a column of text are no signals, and that is said', () => {
    const file = parseFile(lines('#,time_s,A_mAU,note', '1,0,1,ok', '2,60,2,ok', '3,120,3,ok'));
    expect(numbersOf(file)).toStrictEqual({ A: { time: [0, 1, 2], signal: [1, 2, 3] } });
    expect(file.diagnostics.map(({ code, column }) => [code, column])).toStrictEqual([
      ['column-left-out', 1],
      ['column-left-out', 4],
    ]);
  });

  test('times are taken from the column asked for', () => {
    const text2 = lines('a;b;c', '5;0;1', '1;1;2', '2;2;3');
    for (const timeColumn of ['b', 2]) {
      const { traces } = parseFile(text2, { ...stated, timeColumn, channel: 'c' });
      expect(Array.from(traces[0]!.time)).toStrictEqual([0, 1, 2]);
    }
    expect(() => parseFile(text2, { ...stated, timeColumn: 'd' })).toThrow(
      expect.objectContaining({ code: 'column-unknown', details: expect.objectContaining({ field: 'timeColumn' }) }),
    );
  });
});

describe('A file that can be read in two ways', () => {
  const text = lines('1,2,3,4', '2,3,4,5', '3,4,5,6');

  test('is an error that lists them and says what settles it', () => {
    expect(() => parseFile(text, { ...stated, file: 'run-7.csv' })).toThrow(
      expect.objectContaining({
        code: 'reading-ambiguous',
        message:
          "parseFile: run-7.csv, line 1, fits several readings equally well: { delimiter: 'comma', decimal: '.' } with first row 1 | 2 | 3 | 4; { delimiter: 'comma', decimal: ',' } with first row 1.2 | 3.4. Pass the options of one.",
        details: expect.objectContaining({ file: 'run-7.csv', row: 1 }),
      }),
    );
  });

  test('is read as the options say', () => {
    expect(numbersOf(parseFile(text, { ...stated, decimal: '.' }))['column 4']!.signal).toStrictEqual([4, 5, 6]);
    expect(numbersOf(parseFile(text, { ...stated, delimiter: 'comma', decimal: ',' }))).toStrictEqual({
      'column 2': { time: [1.2, 2.3, 3.4], signal: [3.4, 4.5, 5.6] },
    });
  });

  test('is settled by a header that counts the columns', () => {
    expect(parseFile(lines('t_s,a_V,b_V,c_V') + text).traces).toHaveLength(3);
    expect(parseFile(lines('t_s,a_V') + text).traces).toHaveLength(1);
  });

  test('is not settled by a few equal times', () => {
    const rows = Array.from({ length: 100 }, (_, i) => `${i === 50 ? 49 : i},${i},3,4`);
    expect(() => parseFile(lines(...rows), stated)).toThrow(expect.objectContaining({ code: 'reading-ambiguous' }));
  });
});

describe('Rows and cells that do not fit', () => {
  const file = parseFile(
    lines('Time (min);A (mAU);B (mAU)', '0;1;2', '1;;3', '2;3;n/a', '3;;', '4;5', 'pause', '5;6;7;8', '6;7;8', '7'),
  );

  test('are left out and named one by one', () => {
    expect(file.diagnostics).toMatchObject([
      { code: 'cell-empty', action: 'sample left out', rows: 0, line: 3, column: 2 },
      { code: 'cell-not-numeric', action: 'sample left out', rows: 0, line: 4, column: 3, found: 'n/a' },
      { code: 'row-empty', action: 'row left out', rows: 1, line: 5, found: '3;;' },
      { code: 'row-width', action: 'row left out', rows: 1, line: 6, found: '4;5' },
      { code: 'row-not-numeric', action: 'row left out', rows: 1, line: 7, found: 'pause' },
      { code: 'row-width', action: 'row left out', rows: 1, line: 8, found: '5;6;7;8' },
      { code: 'row-width', action: 'row left out', rows: 1, line: 10, found: '7' },
    ]);
    expect(file.diagnostics[1]!.message).toBe('Line 4, column 3 is no number: "n/a". The sample was left out.');
    expect(file.rows).toStrictEqual({ found: 9, used: 4, leftOut: 5 });
  });

  test('leave a gap in the traces they are missing from', () => {
    expect(numbersOf(file)).toStrictEqual({
      A: { time: [0, 2, 6], signal: [1, 3, 7] },
      B: { time: [0, 1, 6], signal: [2, 3, 8] },
    });
    expect(file.traces[0]!.gaps).toContainEqual({ from: 0, to: 2 });
    expect(file.traces[1]!.gaps).toContainEqual({ from: 1, to: 6 });
  });

  test('at the top do not hide the header', () => {
    const top = parseFile(lines('Time (min),A (mAU)', '1,1,1', '1.5,', '2,5', '3,6'));
    expect(numbersOf(top)).toStrictEqual({ A: { time: [2, 3], signal: [5, 6] } });
    expect(top.diagnostics.map(({ line }) => line)).toStrictEqual([2, 3]);
  });

  test('and a line of numbers in the preamble is no row of the table', () => {
    const odd = parseFile(lines('280,4', 'Time (min),A (mAU)', '0,1', '1,2'));
    expect(odd.metadata).toStrictEqual([{ line: 1, text: '280,4' }]);
    expect(odd.rows).toStrictEqual({ found: 2, used: 2, leftOut: 0 });
  });

  test.each(['\n', '\r', '\r\n'])('are named by the lines an editor shows, with line ends %j', (end) => {
    const text = ['note', '"Time', '(min)","A (mAU)"', '0,1', '', '1,x', '2,3', '3,4', 'end'].join(end);
    const { diagnostics, metadata } = parseFile(text);
    expect(diagnostics.map(({ line }) => line)).toStrictEqual([6]);
    expect(metadata.map(({ line }) => line)).toStrictEqual([1, 9]);
  });

  test('beyond a thousand are counted', () => {
    const rows = Array.from({ length: 5000 }, (_, i) => `${i},1\noops`);
    const many = parseFile(lines('s,mAU', ...rows, '9999,1'));
    expect(many.rows).toStrictEqual({ found: 10_001, used: 5001, leftOut: 5000 });
    expect(many.diagnostics).toHaveLength(1001);
    expect(many.diagnostics.at(-1)).toMatchObject({ code: 'more-left-out', rows: 4000, lastLine: 10_001 });
  });
});

describe('Times that do not increase', () => {
  const text = lines('Time (min),A (mAU)', '0,1', '1,2', '1,4', '2,5');

  test('are an error that names line and column', () => {
    expect(() => parseFile(text, { file: 'run-7.csv' })).toThrow(
      "parseFile: run-7.csv, line 4: time 1 does not follow 1. Correct the file, or pass duplicateTimes: 'first'.",
    );
    expect(() => parseFile(lines('Time (min),A (mAU)', '0,1', '2,2', '1,4', '3,5'))).toThrow(
      "pass backwardTimes: 'drop'",
    );
  });

  test('are treated as the options say', () => {
    expect(Array.from(parseTrace(text, { duplicateTimes: 'mean' })[0]!.signal)).toStrictEqual([1, 3, 5]);
  });
});

describe('Units', () => {
  const bare = lines('time,signal', '0,1', '60,2', '120,3');

  test('that are nowhere are an error that says what to pass', () => {
    expect(() => parseFile(bare, { file: 'run-7.csv' })).toThrow(
      "parseFile: run-7.csv does not say the unit of time (column 1). Pass it, for example timeUnit: 'min'.",
    );
    expect(() => parseFile(bare, { timeUnit: 's' })).toThrow(
      expect.objectContaining({
        code: 'unit-missing',
        details: expect.objectContaining({ field: 'signalUnit', column: 2 }),
      }),
    );
  });

  test('that only a line outside the table states are taken when all such lines agree', () => {
    const [trace] = parseTrace(`Time unit: sec\nSignal unit;mAU\n${bare}`);
    expect(trace!.meta).toMatchObject({
      timeUnit: { unit: 's', provenance: 'inferred' },
      signalUnit: { unit: 'mAU', provenance: 'inferred' },
    });
    const contradiction = `Signal unit: mAU\nSignal unit: mV\n${bare}`;
    expect(() => parseTrace(contradiction, { timeUnit: 's' })).toThrow(
      expect.objectContaining({ code: 'unit-missing' }),
    );
  });

  test('that the caller states are declared, and go before the header', () => {
    const [trace] = parseTrace(bare, { timeUnit: 's', signalUnit: 'mAU' });
    expect(trace!.meta).toMatchObject({
      timeUnit: { unit: 's', provenance: 'declared' },
      signalUnit: { unit: 'mAU', provenance: 'declared' },
    });
    expect(Array.from(trace!.time)).toStrictEqual([0, 1, 2]);
    const over = parseFile(lines('time_s,signal_AU', '0,1', '60,2'), { timeUnit: 'min', signalUnit: 'mAU' });
    expect(over.traces[0]!.time[1]).toBe(60);
    expect(over.diagnostics.map(({ code }) => code)).toStrictEqual(['unit-overridden', 'unit-overridden']);
  });

  test('the moment of injection is minute zero', () => {
    const [trace] = parseTrace(lines('time_s,mAU', '0,1', '60,2', '120,3'), { injectedAt: 60 });
    expect(Array.from(trace!.time)).toStrictEqual([-1, 0, 1]);
  });
});

describe('A text without a table', () => {
  test.each([
    ['prose', 'Vanilla extract, batch 7.\nTwo peaks, both late.\n'],
    ['one column', '1\n2\n3\n'],
    ['one row', 'Time (min),Signal (mAU)\n0,1\n'],
    ['clock times', 'Time,mAU\n00:00:01,5\n00:00:02,6\n'],
    ['blank lines', '\n\n  \n'],
    ['a letter with numbers in it', `1,2\n${'some words, and more\n'.repeat(20)}2,3\n`],
  ])('is said to be none: %s', (_, text) => {
    expect(() => parseFile(text, stated)).toThrow(expect.objectContaining({ code: 'table-not-found' }));
  });

  test('and the message quotes what was found instead of a number', () => {
    expect(() => parseFile('Time,mAU\n00:00:01,5\n00:00:02,6\n')).toThrow('for example line 3: "00:00:02,6".');
  });
});

describe('Messages', () => {
  test('quote at most 80 characters and no control characters', () => {
    const hostile = `\u001b[31m\u202e${'x'.repeat(10_000)}\u0000`;
    const { diagnostics } = parseFile(lines('min,mAU', '0,1', `1,${hostile}`, '2,3'));
    const { message, found = '' } = diagnostics[0]!;
    expect(Array.from(found).length).toBeLessThanOrEqual(80);
    // eslint-disable-next-line no-control-regex -- that is what must not be there
    expect(message).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u202e]/);
  });
});

test('An option that does not exist is refused', () => {
  const options = { delimter: 'comma' } as FileOptions;
  expect(() => parseFile('min,mAU\n0,1\n1,2', options)).toThrow('did you mean delimiter?');
  expect(() => parseFile('min,mAU\n0,1\n1,2', { decimal: ';' as '.' })).toThrow(
    expect.objectContaining({ code: 'option-invalid' }),
  );
});

test('The bytes given stay as they are', () => {
  const bytes = new TextEncoder().encode('Time (min);Signal (mAU)\n0;1,5\n1;2,5\n');
  const copy = bytes.slice();
  parseFile(bytes);
  expect(bytes).toStrictEqual(copy);
});
