import { axisTicks, type AxisTicks } from './axis-ticks.js';
import { hairline, muted, textSize } from './look.js';
import { markup, type Markup } from './markup.js';
import { powerOfTen } from './number-text.js';
import { place, type Scale } from './scale.js';
import { textWidth } from './text-width.js';

/** [px] Width of the widest of some texts. */
export function widest(texts: readonly string[]): number {
  return Math.max(0, ...texts.map((text) => textWidth(text)));
}

/** Marks of the upright axis: at least three, or a single one when it is too short for more. */
export function uprightTicks({ from, to, start, end }: Scale): AxisTicks {
  const length = start - end;
  const short = length < 4 * textSize;
  const ticks = axisTicks(from, to, short ? 1 : Math.max(3, length / 45));
  return short ? { ...ticks, values: ticks.values.slice(0, 1) } : ticks;
}

/** Marks of the level axis, fewer when their texts are long. */
export function levelTicks({ from, to, start, end }: Scale): AxisTicks {
  const ticks = axisTicks(from, to, (end - start) / 90);
  const needed = 1.5 * widest(ticks.texts) + 40;
  return needed <= 120 ? ticks : axisTicks(from, to, (end - start) / needed);
}

/** `signal [mAU]`, or with the power of ten that was taken out of the texts. */
export function axisTitle(quantity: string, unit: string, { exponent }: AxisTicks): string {
  const inside = `${exponent === 0 ? '' : powerOfTen(exponent)} ${unit}`.trim();
  return inside === '' ? quantity : `${quantity} [${inside}]`;
}

/** Both axes of a view: hairlines across with texts to their left; a line with marks below, and texts when wanted. */
export function axes(x: Scale, y: Scale, xTicks: AxisTicks, yTicks: AxisTicks, texts: boolean): Markup {
  const across = yTicks.values.map((value, i) => {
    const at = place(y, value);
    return markup`<path d="M${x.start} ${at}H${x.end}"/><text x="${x.start - 8}" y="${at + 5}" stroke="none">${yTicks.texts[i]}</text>`;
  });
  const below = xTicks.values.map((value, i) => {
    const at = place(x, value);
    const text = texts
      ? markup`<text x="${at}" y="${y.start + 23}" stroke="none">${xTicks.texts[i]}</text>`
      : undefined;
    return markup`<path d="M${at} ${y.start}v6"/>${text}`;
  });
  return markup`<g class="axis" stroke="${hairline}" text-anchor="end">${across}</g>
<g class="axis" stroke="${muted}" text-anchor="middle"><path d="M${x.start} ${y.start}H${x.end}"/>${below}</g>`;
}
