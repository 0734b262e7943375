const brand: unique symbol = Symbol('markup');

/**
 * Text that is already markup. Only {@link markup} makes it: nothing that came
 * out of a file or from JSON can pass for it, because the key is a symbol.
 */
export interface Markup {
  readonly [brand]: string;
}

/** What {@link markup} takes: text is escaped, numbers are rounded, markup is kept, `undefined` leaves nothing. */
export type MarkupValue = string | number | Markup | readonly Markup[] | undefined;

/** Template tag for SVG and HTML: every value is escaped unless it is markup already. Attributes must be quoted. */
export function markup(strings: TemplateStringsArray, ...values: readonly MarkupValue[]): Markup {
  let text = strings[0]!;
  for (let i = 0; i < values.length; i++) text += write(values[i]) + strings[i + 1]!;
  return { [brand]: text };
}

/** The text of markup. */
export function markupText(value: Markup): string {
  return value[brand];
}

function write(value: MarkupValue): string {
  if (value === undefined) return '';
  if (typeof value === 'string') return escapeMarkup(value);
  if (typeof value === 'number') return coordinate(value);
  if (isMarkup(value)) return value[brand];
  return value.map((part) => part[brand]).join('');
}

function isMarkup(value: object): value is Markup {
  return brand in value;
}

/** A number of a drawing: at most two decimals, the same text on every engine; what is not finite counts as 0. */
export function coordinate(value: number): string {
  if (!Number.isFinite(value)) return '0';
  const rounded = Math.round(value * 100) / 100;
  return rounded === 0 ? '0' : String(rounded);
}

const replacements: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/**
 * Text made safe for element content and quoted attributes. Characters that
 * XML 1.0 does not allow (section 2.2: most control characters, lone
 * surrogates, U+FFFE and U+FFFF) become U+FFFD, because one of them makes the
 * whole document unreadable.
 */
export function escapeMarkup(text: string): string {
  return text
    .replace(/[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu, '\uFFFD')
    .replace(/[&<>"']/g, (character) => replacements[character]!);
}
