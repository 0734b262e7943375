import type { Analysis } from '../analysis/index.js';
import { axisTitle, levelAxis, ticksOf, uprightAxis } from './axes.js';
import { axisTicks } from './axis-ticks.js';
import { chromatogramLabels, labelMarks } from './chromatogram-labels.js';
import {
  legendContent,
  legendEnd,
  noLegendBelow,
  signalTickSpacing,
  type Layout,
  type LayoutTask,
} from './chromatogram-layout.js';
import { panelBody, patterns, type RejectedMark } from './chromatogram-panel.js';
import { chromatogramDescription, chromatogramTitle } from './chromatogram-words.js';
import { legend } from './legend.js';
import { look } from './look.js';
import type { Magnification } from './magnification.js';
import { markup, markupText, type Markup } from './markup.js';
import type { PanelFrame } from './panel-frame.js';
import { svgDocument } from './svg-document.js';
import { fitText, textWidth } from './text-width.js';
import { levelAt } from './trace-line.js';

/** Puts a picture of a run together. */
export function drawChromatogram(
  analysis: Analysis,
  { model, settings }: LayoutTask,
  layout: Layout,
  view: Magnification | undefined,
): string {
  const rejected: RejectedMark[] = !settings.rejected
    ? []
    : analysis.rejected
        .filter(({ at }) => at >= model.from && at <= model.to)
        .map(({ at, text }) => ({ at, level: levelAt(analysis.trace, at), text }));
  const title = chromatogramTitle(analysis);
  const timeTicks = ticksOf(layout.frames[0]!.x, 90, true);
  const render = (prefix: string): Markup => {
    let missing = 0;
    const panels = layout.frames.map((plain, i) => {
      const frame = { ...plain, prefix };
      const last = i === layout.frames.length - 1;
      const yTicks = ticksOf(frame.y, signalTickSpacing);
      const labels = chromatogramLabels(
        model,
        layout.peaks[i]!,
        i === 0 ? model.bands : [],
        frame,
        layout.labels[i]!.strip,
        layout.labels[i]!,
      );
      missing += labels.missing;
      const caption = axisTitle('signal', analysis.units.signal, yTicks);
      return markup`<g class="panel"><text x="${frame.left}" y="${frame.top - layout.labels[i]!.strip - 8}" font-size="${look.textSize}" fill="${look.muted}">${caption}${i === 1 && view !== undefined ? magnifiedNote(view, frame.right - frame.left - textWidth(caption, look.textSize)) : undefined}</text>
${uprightAxis(yTicks, frame.y, frame.left, frame.right)}${levelAxis(timeTicks, frame.x, frame.bottom, last)}
${panelBody(model, frame, analysis.units, rejected)}
${labelMarks(labels.placed, layout.labels[i]!.upright)}</g>`;
    });
    const foot = layout.frames.at(-1)!.bottom + 52;
    return markup`${patterns(prefix)}
${panels}
${missingNote(missing, layout.frames[0]!, layout.labels[0]!.strip)}
<text x="${layout.frames[0]!.right}" y="${foot}" text-anchor="end" font-size="${look.textSize}" fill="${look.muted}">${axisTitle('time', analysis.units.time, axisTicks(0, 1, 1))}</text>
${layout.height < noLegendBelow ? undefined : legend(layout.frames[0]!.left, legendEnd(layout.frames[0]!.right), foot, legendContent(model, rejected.length > 0, prefix)).marks}`;
  };
  return markupText(
    svgDocument({
      width: settings.width,
      height: layout.height,
      left: layout.frames[0]!.left,
      title,
      subtitle: layout.subtitle,
      description: chromatogramDescription(analysis, model),
      body: render,
    }),
  );
}

/** Says how many labels found no room, at the right above the first view. */
function missingNote(missing: number, frame: PanelFrame, strip: number): Markup | undefined {
  if (missing === 0) return undefined;
  const text = `${missing} label${missing === 1 ? '' : 's'} left out for want of room`;
  return markup`<text x="${frame.right}" y="${frame.top - strip - 8}" text-anchor="end" font-size="${look.textSize}" fill="${look.muted}">${fitText(text, look.textSize, 0.6 * (frame.right - frame.left))}</text>`;
}

function magnifiedNote(view: Magnification, room: number): Markup {
  const text = 'the same run drawn taller; what is cut off here is whole above';
  const factor = `× ${view.factor}`;
  const left = room - textWidth(factor, look.textSize) - 30;
  return markup`<tspan fill="${look.ink}" font-weight="bold" dx="14">${factor}</tspan><tspan dx="8">${fitText(text, look.textSize, left)}</tspan>`;
}
