import type { Analysis } from '../analysis/index.js';
import { failOption, resolveOptions } from '../core/index.js';
import { axisRoom, axisTitle, levelAxis, ticksOf, uprightAxis } from './axes.js';
import { axisTicks } from './axis-ticks.js';
import { chromatogramLabels, labelMarks, labelRows } from './chromatogram-labels.js';
import { chromatogramModel, type ChromatogramModel, type PeakShape } from './chromatogram-model.js';
import { panelBody, patterns, type RejectedMark } from './chromatogram-panel.js';
import { chromatogramDescription, chromatogramSubtitle, chromatogramTitle } from './chromatogram-words.js';
import { legend } from './legend.js';
import { look } from './look.js';
import { magnification, type Magnification } from './magnification.js';
import { markup, markupText, type Markup } from './markup.js';
import type { PanelFrame } from './panel-frame.js';
import { svgDocument } from './svg-document.js';
import { levelAt } from './trace-line.js';

/**
 * Options of {@link renderChromatogram}.
 *
 * @public
 */
export interface ChromatogramOptions {
  /**
   * [min] Left end of the time shown; `'automatic'` is the first sample.
   *
   * @defaultValue 'automatic'
   */
  readonly from?: number | 'automatic';
  /**
   * [min] Right end of the time shown, later than `from`; `'automatic'` is the last sample.
   *
   * @defaultValue 'automatic'
   */
  readonly to?: number | 'automatic';
  /**
   * [signal unit] Lower end of the signal shown; `'automatic'` holds everything in the time shown.
   *
   * @defaultValue 'automatic'
   */
  readonly low?: number | 'automatic';
  /**
   * [signal unit] Upper end of the signal shown, above `low`; `'automatic'` holds everything in the time shown.
   *
   * @defaultValue 'automatic'
   */
  readonly high?: number | 'automatic';
  /**
   * [px] Width of the picture, 320 to 8000.
   *
   * @defaultValue 960
   */
  readonly width?: number;
  /**
   * [px] Height of the picture, 240 to 8000; `'automatic'` is 440, or 680 with a second view.
   *
   * @defaultValue 'automatic'
   */
  readonly height?: number | 'automatic';
  /**
   * [-] How many times taller a second view below draws the signal; `'automatic'` adds one when a peak would be less
   * than 12 px high and no `low` or `high` is given, `'none'` never does.
   *
   * @defaultValue 'automatic'
   */
  readonly magnification?: number | 'automatic' | 'none';
  /**
   * What the peaks are labelled with.
   *
   * @defaultValue 'name and time'
   */
  readonly labels?: 'name and time' | 'time' | 'none';
  /**
   * Whether the places that were looked at and not taken as peaks are marked with circles.
   *
   * @defaultValue false
   */
  readonly rejected?: boolean;
}

const defaults: Required<ChromatogramOptions> = {
  from: 'automatic',
  to: 'automatic',
  low: 'automatic',
  high: 'automatic',
  width: 960,
  height: 'automatic',
  magnification: 'automatic',
  labels: 'name and time',
  rejected: false,
};

const headerHeight = 66;
const axisHeight = 66;
const panelTitleHeight = 24;

/**
 * Draws a run: the signal, what was integrated and on which baseline, as SVG.
 *
 * The shaded areas are the integrated ones: between the signal and the
 * baseline of the peak, from its start to its end, both between samples.
 * Neighbouring areas differ in lightness and in hatching. Limits are upright
 * ticks, joined to the signal where a drop line divides peaks. What was set
 * apart as no peak is dotted and named. Labels never overlap; when there is no
 * room for one, the picture says how many are missing. Pointing at a peak
 * shows its numbers and the reason for its limits.
 *
 * A million samples draw like a thousand: each pixel column keeps its first,
 * lowest, highest and last sample. A gap of the record breaks the line. The
 * text is the same, byte for byte, on every engine; every text from a file is
 * escaped.
 *
 * @param analysis - The run; only read.
 * @param options - Window, size and what to mark; see {@link ChromatogramOptions}.
 *
 * @returns An SVG document without an XML declaration, so that it can also stand inside HTML.
 *
 * @throws {@link PeakwrightError} `option-unknown`, `option-invalid`.
 *
 * @public
 */
export function renderChromatogram(analysis: Analysis, options: ChromatogramOptions = {}): string {
  const settings = resolveOptions('renderChromatogram', defaults, options);
  const { from, to } = checkSettings(settings, analysis);
  const model = chromatogramModel(analysis, from, to, Math.max(1, Math.round(settings.width - 100)));
  const zoomed = settings.low !== 'automatic' || settings.high !== 'automatic';
  const range = signalRange(model, settings);

  const draft = layOut(model, settings, range, 1);
  const view =
    settings.magnification === 'none' || (zoomed && settings.magnification === 'automatic')
      ? undefined
      : secondView(analysis, model, settings, range);
  const panels = view === undefined ? draft : layOut(model, settings, range, 2, view);
  return draw(analysis, model, settings, panels, view);
}

type Resolved = Required<ChromatogramOptions>;

interface Layout {
  readonly height: number;
  readonly frames: readonly PanelFrame[];
  readonly peaks: readonly (readonly PeakShape[])[];
  readonly bandHeights: readonly number[];
}

function checkSettings(settings: Resolved, analysis: Analysis): { from: number; to: number } {
  const fail = (field: keyof Resolved, expected: string): never =>
    failOption('renderChromatogram', field, expected, settings[field]);
  for (const field of ['from', 'to', 'low', 'high'] as const) {
    if (settings[field] !== 'automatic' && !Number.isFinite(settings[field])) fail(field, 'a number or "automatic"');
  }
  if (!(settings.width >= 320 && settings.width <= 8000)) fail('width', 'from 320 to 8000 px');
  if (settings.height !== 'automatic' && !(settings.height >= 240 && settings.height <= 8000)) {
    fail('height', 'from 240 to 8000 px or "automatic"');
  }
  const factor = settings.magnification;
  if (factor !== 'automatic' && factor !== 'none' && !(factor >= 1 && factor <= 1e6)) {
    fail('magnification', 'a factor from 1 to 1e6, "automatic" or "none"');
  }
  if (!['name and time', 'time', 'none'].includes(settings.labels)) fail('labels', '"name and time", "time" or "none"');
  if (typeof settings.rejected !== 'boolean') fail('rejected', 'true or false');

  const { time } = analysis.trace;
  const first = time[0] ?? 0;
  const last = time[time.length - 1] ?? 1;
  const from = settings.from === 'automatic' ? first : settings.from;
  const end = settings.to === 'automatic' ? last : settings.to;
  // A record of one sample still has a place on the axis.
  const to = settings.to === 'automatic' && end === from ? from + 1 : end;
  if (!(to > from))
    fail(settings.to === 'automatic' ? 'from' : 'to', `such that to (${to}) is later than from (${from})`);
  if (settings.low !== 'automatic' && settings.high !== 'automatic' && !(settings.high > settings.low)) {
    fail('high', `above low (${settings.low})`);
  }
  return { from, to };
}

/** Lowest and highest level to show; never an empty span. */
function signalRange(model: ChromatogramModel, settings: Resolved): { low: number; high: number } {
  let low = Infinity;
  let high = -Infinity;
  const take = (value: number): void => {
    if (value < low) low = value;
    if (value > high) high = value;
  };
  for (const piece of [...model.line, ...model.baselines]) piece.value.forEach(take);
  for (const shape of model.peaks) {
    if (shape.peak.retentionTime >= model.from && shape.peak.retentionTime <= model.to) take(shape.apexLevel);
  }
  if (low > high) [low, high] = [0, 1];
  if (settings.low !== 'automatic') low = settings.low;
  if (settings.high !== 'automatic') high = settings.high;
  const size = Math.max(Math.abs(low), Math.abs(high));
  if (!(high - low > 1e-9 * size)) {
    const room = size > 0 ? 0.05 * size : 1;
    if (settings.low === 'automatic') low = Math.min(low, high) - room;
    if (settings.high === 'automatic') high = low + 2 * room;
  }
  return { low, high };
}

function secondView(
  analysis: Analysis,
  model: ChromatogramModel,
  settings: Resolved,
  range: { readonly low: number; readonly high: number },
): Magnification | undefined {
  const trial = layOut(model, settings, range, 2);
  const [first, second] = trial.frames as [PanelFrame, PanelFrame];
  const scale = Math.abs((first.y.end - first.y.start) / (first.y.to - first.y.from));
  const inWindow = model.peaks.filter(({ peak }) => peak.retentionTime >= model.from && peak.retentionTime <= model.to);
  const asked = settings.magnification === 'none' ? 'automatic' : settings.magnification;
  return magnification(inWindow, scale, second.bottom - second.top, analysis.noise.standardDeviation, asked);
}

/** Places of one view, or of two with the same scale of time. */
function layOut(
  model: ChromatogramModel,
  settings: Resolved,
  range: { readonly low: number; readonly high: number },
  count: 1 | 2,
  view?: Magnification,
): Layout {
  const height = settings.height === 'automatic' ? (count === 1 ? 440 : 680) : settings.height;
  const shown = model.peaks.filter(({ peak }) => peak.retentionTime >= model.from && peak.retentionTime <= model.to);
  const small = new Set(view?.peaks ?? []);
  const peaks =
    count === 1 || view === undefined
      ? [shown, shown]
      : [shown.filter((shape) => !small.has(shape)), shown.filter((shape) => small.has(shape))];
  const room = axisRoom(axisTicks(range.low, range.high, 5));
  const secondRoom = view === undefined ? 0 : axisRoom(axisTicks(view.low, view.high, 4));
  const left = Math.round(Math.max(room, secondRoom, 34) + 14);
  const right = settings.width - 24;
  const x = { from: model.from, to: model.to, start: left, end: right };
  const inner = height - headerHeight - axisHeight - count * panelTitleHeight - (count - 1) * 20;
  const shares = count === 1 ? [1] : [0.54, 0.46];
  const frames: PanelFrame[] = [];
  const bandHeights: number[] = [];
  let top = headerHeight;
  for (let i = 0; i < count; i++) {
    const whole = inner * shares[i]!;
    const band = Math.round(
      Math.min(
        labelRows(count === 2 && view === undefined ? [] : peaks[i]!, settings.labels, right - left),
        0.45 * whole,
      ),
    );
    top += panelTitleHeight + band;
    const bottom = Math.round(top + whole - band);
    const margin = Math.round(
      Math.min(settings.low === 'automatic' && i === 0 ? marginBelow(peaks[i]!, settings) : 0, 0.25 * whole),
    );
    const levels = i === 1 && view !== undefined ? view : range;
    const y = { from: levels.low, to: levels.high, start: bottom - margin, end: top };
    frames.push({ left, right, top, bottom, x, y, prefix: '' });
    bandHeights.push(band);
    top = bottom + 20;
  }
  return { height, frames, peaks, bandHeights };
}

/** [px] Room below the lowest level: a little, or a label's height when a peak points down. */
function marginBelow(peaks: readonly PeakShape[], settings: Resolved): number {
  const labelled = settings.labels !== 'none' && peaks.some(({ peak }) => peak.direction === 'down');
  return labelled ? 48 : 14;
}

function draw(
  analysis: Analysis,
  model: ChromatogramModel,
  settings: Resolved,
  layout: Layout,
  view: Magnification | undefined,
): string {
  const rejected: RejectedMark[] = !settings.rejected
    ? []
    : analysis.rejected
        .filter(({ at }) => at >= model.from && at <= model.to)
        .map(({ at, text }) => ({ at, level: levelAt(analysis.trace, at), text }));
  const title = chromatogramTitle(analysis);
  let missing = 0;
  const render = (prefix: string): Markup => {
    missing = 0;
    const panels = layout.frames.map((plain, i) => {
      const frame = { ...plain, prefix };
      const last = i === layout.frames.length - 1;
      const yTicks = ticksOf(frame.y, i === 0 ? 62 : 52);
      const labels = chromatogramLabels(
        model,
        layout.peaks[i]!,
        i === 0 ? model.bands : [],
        frame,
        layout.bandHeights[i]!,
        settings.labels,
      );
      missing += labels.missing;
      const caption = axisTitle('signal', analysis.units.signal, yTicks);
      return markup`<g class="panel"><text x="${frame.left}" y="${frame.top - layout.bandHeights[i]! - 8}" font-size="${look.textSize}" fill="${look.muted}">${caption}${i === 1 && view !== undefined ? magnifiedNote(view) : undefined}</text>
${uprightAxis(yTicks, frame.y, frame.left, frame.right)}${levelAxis(ticksOf(frame.x, 90), frame.x, frame.bottom, last)}
${panelBody(model, frame, analysis.units, rejected)}
${labelMarks(labels.placed)}</g>`;
    });
    const foot = layout.height - 14;
    return markup`${patterns(prefix)}
${panels}
<text x="${layout.frames[0]!.right}" y="${foot}" text-anchor="end" font-size="${look.textSize}" fill="${look.muted}">${axisTitle('time', analysis.units.time, axisTicks(0, 1, 1))}</text>
${legend(layout.frames[0]!.left, foot, { areas: model.peaks.length, bands: model.bands.length > 0, rejected: rejected.length > 0, prefix })}`;
  };
  render('');
  return markupText(
    svgDocument({
      width: settings.width,
      height: layout.height,
      left: layout.frames[0]!.left,
      title,
      subtitle: chromatogramSubtitle(analysis, model, missing),
      description: chromatogramDescription(analysis, model),
      body: render,
    }),
  );
}

function magnifiedNote(view: Magnification): Markup {
  return markup`<tspan fill="${look.ink}" font-weight="bold" dx="14">${`× ${view.factor}`}</tspan><tspan dx="8">the same run drawn taller; what is cut off here is whole above</tspan>`;
}
