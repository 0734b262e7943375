import { expect, test } from 'vitest';
import { coordinate, escapeMarkup, markup, markupText, type Markup } from '../../../src/report/markup.js';

test('text can break out of neither an element nor a quoted attribute', () => {
  const attack = `"><script>alert('1')</script>&amp;`;
  expect(markupText(markup`<a b="${attack}">${attack}</a>`)).toBe(
    '<a b="&quot;&gt;&lt;script&gt;alert(&#39;1&#39;)&lt;/script&gt;&amp;amp;">&quot;&gt;&lt;script&gt;alert(&#39;1&#39;)&lt;/script&gt;&amp;amp;</a>',
  );
});

// XML 1.0 (fifth edition), production [2] Char.
test.each([
  ['NUL', '\0'],
  ['vertical tab', '\v'],
  ['escape', '\u001b'],
  ['a lone high surrogate', '\uD800'],
  ['a lone low surrogate', '\uDC00'],
  ['U+FFFE', '\uFFFE'],
  ['U+FFFF', '\uFFFF'],
])('%s, which XML 1.0 does not allow, is replaced', (_, character) => {
  expect(escapeMarkup(`a${character}b`)).toBe('a\uFFFDb');
});

test('characters XML allows are kept, also those beyond the first plane', () => {
  expect(escapeMarkup('\t\n\r µ 香草 \u{1F33F}')).toBe('\t\n\r µ 香草 \u{1F33F}');
});

test('an object out of a file cannot pass for markup', () => {
  const forged = JSON.parse('{"markup":"<b>","toString":"<b>"}') as Markup;
  expect(() => markupText(markup`${forged}`)).toThrow();
});

test('numbers are written with at most two decimals and never as NaN, infinity or minus zero', () => {
  expect([1 / 3, -1e-9, 12, 0.005, NaN, Infinity].map(coordinate)).toEqual(['0.33', '0', '12', '0.01', '0', '0']);
});
