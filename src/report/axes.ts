import { axisTicks, powerOfTen, type AxisTicks } from './axis-ticks.js';
import { look } from './look.js';
import { markup, type Markup } from './markup.js';
import { place, type Scale } from './scale.js';
import { textWidth } from './text-width.js';

/** Ticks along a scale, about one per so many pixels; fewer where their texts, side by side, need more. */
export function ticksOf(scale: Scale, spacing: number, sideBySide = false): AxisTicks {
  const length = Math.abs(scale.end - scale.start);
  const ticks = axisTicks(scale.from, scale.to, length / spacing);
  if (!sideBySide) return length < 2 * look.textSize ? { ...ticks, values: ticks.values.slice(0, 1) } : ticks;
  const widest = Math.max(0, ...ticks.texts.map((text) => textWidth(text, look.textSize)));
  return widest + 30 <= spacing ? ticks : axisTicks(scale.from, scale.to, length / (1.5 * widest + 40));
}

/** [px] Room the texts of an upright axis need to the left of it. */
export function axisRoom(ticks: AxisTicks): number {
  return Math.max(0, ...ticks.texts.map((text) => textWidth(text, look.textSize))) + 10;
}

/** `signal [mAU]`, or with the power of ten that was taken out of the texts. */
export function axisTitle(quantity: string, unit: string, ticks: AxisTicks): string {
  const power = ticks.exponent === 0 ? '' : `${powerOfTen(ticks.exponent)} `;
  const inside = `${power}${unit}`.trim();
  return inside === '' ? quantity : `${quantity} [${inside}]`;
}

/** Upright axis: texts to the left, hairlines across. */
export function uprightAxis(ticks: AxisTicks, scale: Scale, left: number, right: number): Markup {
  const marks = ticks.values.map((value, i) => {
    const y = place(scale, value);
    return markup`<path d="M${left} ${y}H${right}" stroke="${look.hairline}"/><text x="${left - 8}" y="${y + 5}" text-anchor="end">${ticks.texts[i]}</text>`;
  });
  return markup`<g class="axis" font-size="${look.textSize}" fill="${look.muted}">${marks}</g>`;
}

/** Level axis: a line, marks below it, texts below those when wanted. */
export function levelAxis(ticks: AxisTicks, scale: Scale, y: number, texts: boolean): Markup {
  const marks = ticks.values.map((value, i) => {
    const x = place(scale, value);
    const text = texts ? markup`<text x="${x}" y="${y + 23}" text-anchor="middle">${ticks.texts[i]}</text>` : undefined;
    return markup`<path d="M${x} ${y}V${y + 6}" stroke="${look.muted}"/>${text}`;
  });
  return markup`<g class="axis" font-size="${look.textSize}" fill="${look.muted}"><path d="M${scale.start} ${y}H${scale.end}" stroke="${look.muted}"/>${marks}</g>`;
}
