import { describe, expect, test } from 'vitest';
import { isPeakwrightError, parseFile, type FileOptions } from '../../src/index.js';

const encoder = new TextEncoder();

function generator(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % below;
  };
}

const rows = (write: (i: number) => string): string => Array.from({ length: 60 }, (_, i) => write(i)).join('');

/** Files that are read without a complaint. */
const good: readonly Uint8Array[] = [
  `Time (min),Signal (mAU)\n${rows((i) => `${i / 10},${i * i}\n`)}`,
  `Probe;"Vanille; Auszug"\r\n\r\nZeit;UV 280 nm;UV 254 nm\r\n[min];[mAU];[mAU]\r\n${rows((i) => `${i},25;-${i},5;1${100 + i},0\r\n`)}Ende\r\n`,
  `# t_s\ta_V\tb_mV\r${rows((i) => `${i}\t${i}e-3\t${i % 7 === 0 ? '' : i}\r`)}`,
  `"Time\n(min)","A ""x"" (mAU)"\n${rows((i) => `"${i},5","${i},25"\n`)}`,
  `min,mAU\n${rows((i) => `${Math.floor(i / 10)},${i % 10},7,${i}\n`)}\nend,of,run\n`,
].map((text) => encoder.encode(text));

const bits: readonly Uint8Array[] = [
  '"',
  '""',
  ',',
  ';',
  '\t',
  '\r',
  '\n',
  '\r\n',
  '.',
  '-',
  'e',
  'E9999',
  '1e308',
  '0',
  '99999999999999999999',
  'NaN',
  '\ufeff',
  '\u0000',
  'µ',
  '\u00a0',
  '(',
  '[s]',
  'min',
  '1.234.567,8',
  '(((((((((',
  '\n0,0\n',
].map((text) => encoder.encode(text));

/** Flips, cuts, repeats, splices and moves bytes. */
function mutate(source: Uint8Array, random: (below: number) => number): Uint8Array {
  let bytes: number[] = Array.from(source);
  for (let k = random(8) + 1; k > 0; k--) {
    const at = random(bytes.length + 1);
    const length = random(random(4) === 0 ? 400 : 8);
    switch (random(7)) {
      case 0:
        if (at < bytes.length) bytes[at] = random(256);
        break;
      case 1:
        bytes.splice(at, length);
        break;
      case 2:
        bytes.splice(at, 0, ...bits[random(bits.length)]!);
        break;
      case 3:
        bytes.splice(at, 0, ...bytes.slice(at, at + length));
        break;
      case 4:
        bytes = bytes.slice(0, at);
        break;
      case 5: {
        const other = good[random(good.length)]!;
        bytes.splice(at, length, ...other.subarray(random(other.length)).subarray(0, length));
        break;
      }
      default:
        bytes.splice(random(bytes.length + 1), 0, ...bytes.splice(at, length));
    }
  }
  return Uint8Array.from(bytes);
}

/** What may come out: a result that adds up, or an error of ours that is fit to be shown. */
function check(bytes: Uint8Array, options: FileOptions): 'read' | 'refused' {
  try {
    const file = parseFile(bytes, options);
    expect(file.rows.found).toBe(file.rows.used + file.rows.leftOut);
    expect(file.diagnostics.reduce((sum, { rows: n }) => sum + n, 0)).toBe(file.rows.leftOut);
    for (const { time, signal } of file.traces) {
      for (let i = 0; i < time.length; i++) {
        if (!Number.isFinite(time[i]) || !Number.isFinite(signal[i])) expect.fail(`sample ${i} is not finite`);
        if (i > 0 && !(time[i]! > time[i - 1]!)) expect.fail(`sample ${i} is not later`);
      }
    }
    for (const { message, found = '' } of file.diagnostics) {
      expect(message.length).toBeLessThan(400);
      expect(Array.from(found).length).toBeLessThanOrEqual(80);
    }
    return 'read';
  } catch (error) {
    if (!isPeakwrightError(error)) throw error;
    // eslint-disable-next-line no-control-regex -- that is what must not be there
    expect(error.message).not.toMatch(/[\u0000-\u001f\u007f-\u009f]/);
    return 'refused';
  }
}

describe('Damaged files', () => {
  const choices: readonly FileOptions[] = [
    { timeUnit: 'min', signalUnit: 'mAU' },
    {},
    { timeUnit: 's', signalUnit: 'V', duplicateTimes: 'mean', backwardTimes: 'drop' },
    { timeUnit: 's', signalUnit: 'V', decimal: ',', duplicateTimes: 'first', backwardTimes: 'drop' },
    { timeUnit: 's', signalUnit: 'V', timeColumn: 2, file: 'run-7.csv' },
  ];

  test('those they are made from are read', () => {
    for (const bytes of good) expect(check(bytes, {})).toBe('read');
  });

  test.each([1, 2, 3, 4])('are read or refused with an error of ours, seed %i', (seed) => {
    const random = generator(seed * 7919);
    const outcomes = { read: 0, refused: 0 };
    for (let k = 0; k < 500; k++) {
      const bytes = mutate(good[random(good.length)]!, random);
      outcomes[check(bytes, choices[random(choices.length)]!)]++;
    }
    expect(outcomes.read).toBeGreaterThan(50);
    expect(outcomes.refused).toBeGreaterThan(50);
  });
});

// On an idle core of the building machine this takes 0.2 to 0.3 s; the bound leaves room for a busy one.
test('A million rows are read within seconds', { timeout: 60_000 }, () => {
  const text = Array.from({ length: 1e6 }, (_, i) => `${(i * 0.0005).toFixed(5)},${((i * 7919) % 100_003) / 1000}`);
  const bytes = encoder.encode(`time_min,signal_mAU\n${text.join('\n')}`);
  const start = process.cpuUsage().user;
  const file = parseFile(bytes);
  expect((process.cpuUsage().user - start) / 1e6).toBeLessThan(3);
  expect(file.rows.used).toBe(1e6);
});

describe('Any file costs time in proportion to its length', () => {
  const size = 4_000_000;
  const fill = (part: string): Uint8Array => {
    const unit = encoder.encode(part);
    const bytes = new Uint8Array(size);
    for (let i = 0; i < size; i += unit.length) bytes.set(unit.subarray(0, Math.min(unit.length, size - i)), i);
    return bytes;
  };

  // Wide enough for a busy machine: anything quadratic in 4 MB takes hours.
  test.each([
    ['one line of digits', '1'],
    ['one line of commas', ','],
    ['one line of numbers', '1,2,'],
    ['one line of opening quotes', ',"a'],
    ['quotes alone', '"'],
    ['quotes that open each line', '"1,2\n'],
    ['line breaks alone', '\n'],
    ['blanks alone', ' '],
    ['rows of text', 'a,b\n'],
    ['numbers and text in turn', '1,2\nx\n'],
    ['nested brackets', '(min)[('],
    ['letters outside UTF-8', '\u00ff1,2\n'],
  ])('%s', { timeout: 60_000 }, (_, part) => {
    const bytes = fill(part);
    const start = process.cpuUsage().user;
    check(bytes, { timeUnit: 's', signalUnit: 'V' });
    expect((process.cpuUsage().user - start) / 1e6).toBeLessThan(8);
  });
});
