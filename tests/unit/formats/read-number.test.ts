import { describe, expect, test } from 'vitest';
import { readNumber } from '../../../src/formats/read-number.js';

const encoder = new TextEncoder();

function read(text: string, decimal = '.'): { value: number; next: number } {
  const bytes = encoder.encode(text);
  const at = { next: 0 };
  const value = readNumber(bytes, 0, bytes.length, decimal.charCodeAt(0), at);
  return { value, next: at.next };
}

/** A small generator of our own (Marsaglia's xorshift32), so that a failure repeats. */
function generator(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % below;
  };
}

describe('readNumber', () => {
  // Number(text) rounds correctly by ECMA-262, StringToNumber; so both must agree bit for bit.
  test('gives the same bits as Number on a hundred thousand random spellings', () => {
    const random = generator(20_260_101);
    const digits = (most: number): string => Array.from({ length: random(most) }, () => random(10)).join('');
    for (let k = 0; k < 100_000; k++) {
      const sign = ['', '-', '+'][random(3)]!;
      const whole = digits(k % 10 === 0 ? 25 : 9);
      const fraction = digits(k % 10 === 1 ? 25 : 10);
      const exponent =
        random(4) === 0 ? `${'eE'[random(2)]!}${['', '-', '+'][random(3)]!}${random(random(2) === 0 ? 30 : 340)}` : '';
      if (whole + fraction === '') continue;
      const mark = fraction === '' && random(2) === 0 ? '' : '.';
      const text = sign + whole + mark + fraction + exponent;
      const expected = Number(text);
      const { value, next } = read(text);
      if (Number.isFinite(expected)) {
        if (!Object.is(value, expected)) expect.fail(`${text}: ${value} instead of ${expected}`);
        if (next !== text.length) expect.fail(`${text}: ended at ${next}`);
      } else if (next !== -1) expect.fail(`${text} is too large for a number and was read as ${value}`);
    }
  });

  test.each([
    '9007199254740991',
    '9007199254740992',
    '9007199254740993',
    '900719925474099.3',
    '0.1',
    '123456789012345e22',
    '5e-324',
    '1.7976931348623157e308',
    '-0',
    '0.000001',
    '8.533e-21',
  ])('reads %s at the edge of exact arithmetic', (text) => {
    expect(read(text).value).toBe(Number(text));
  });

  test('reads a decimal comma and the minus sign of typesetting', () => {
    expect(read('12,5', ',')).toStrictEqual({ value: 12.5, next: 4 });
    expect(read('\u22120,25', ',').value).toBe(-0.25);
  });

  test.each(['', '-', '.', 'e5', 'NaN', 'Infinity', '+', 'x1', '\u2212'])('finds no number in "%s"', (text) => {
    expect(read(text).next).toBe(-1);
  });

  test('stops where the number stops', () => {
    expect(read('12.5;3')).toStrictEqual({ value: 12.5, next: 4 });
    expect(read('1e;')).toStrictEqual({ value: 1, next: 1 });
    expect(read('1e+')).toStrictEqual({ value: 1, next: 1 });
    expect(read('1.2.3')).toStrictEqual({ value: 1.2, next: 3 });
  });

  test('does not take four hundred digits and more for a reading', () => {
    expect(read('1'.repeat(300)).next).toBe(300);
    expect(read(`0.${'1'.repeat(500)}`).next).toBe(-1);
  });
});
