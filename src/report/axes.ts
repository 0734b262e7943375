import { axisTicks, type AxisTicks } from './axis-ticks.js';
import { mark, text } from './look.js';
import { markup, type Markup } from './markup.js';
import { powerOfTen } from './number-text.js';
import { place, type Scale } from './scale.js';
import { widest } from './text-width.js';

/** Marks of the upright axis: at least two, if it is no shorter than that. */
export function uprightTicks({ from, to, start, end }: Scale): AxisTicks {
  const length = start - end;
  return axisTicks(from, to, Math.max(length / 45, Math.min(3, length / 20)));
}

/** Marks of the level axis, fewer when their texts are long. */
export function levelTicks({ from, to, start, end }: Scale): AxisTicks {
  const length = end - start;
  const longest = widest(axisTicks(from, to, length / 90).texts);
  return axisTicks(from, to, length / Math.max(90, 1.5 * longest + 15));
}

/** `signal [mAU]`, or with the power of ten that was taken out of the texts. */
export function axisTitle(quantity: string, unit: string, exponent = 0): string {
  const inside = `${exponent === 0 ? '' : powerOfTen(exponent)} ${unit}`.trim();
  return inside === '' ? quantity : `${quantity} [${inside}]`;
}

/** Both axes of a view: hairlines across with texts to their left; a line with marks below, and texts when wanted. */
export function axes(x: Scale, y: Scale, across: AxisTicks, up: AxisTicks, texts: boolean): Markup {
  const heights = up.values.map((value) => place(y, value));
  const places = across.values.map((value) => place(x, value));
  const lines = heights.map((at) => markup`M${x.start} ${at}H${x.end}`);
  const ticks = places.map((at) => markup`M${at} ${y.start}v6`);
  return markup`<g class="axis" text-anchor="end">${mark('grid', markup`${lines}`)}${heights.map((at, i) => text(x.start - 8, at + 5, up.texts[i]))}</g>
<g class="axis" text-anchor="middle">${mark('leader', markup`M${x.start} ${y.start}H${x.end}${ticks}`)}${texts ? places.map((at, i) => text(at, y.start + 23, across.texts[i])) : undefined}</g>`;
}
