import { widest } from './axes.js';
import type { Disturbance } from '../signal/index.js';
import type { PeakShape } from './chromatogram-model.js';
import { lineSpacing, type LabelRequest } from './place-labels.js';
import { fitText } from './text-width.js';

/** What peaks are labelled with. */
export type LabelContent = 'name and time' | 'time' | 'none';

/** How the labels of one view are set. */
export interface LabelSetting {
  /** Whether they run upwards, because side by side they would need more than two rows. */
  readonly upright: boolean;
  /** [px] Height to keep free for them above the signal. */
  readonly strip: number;
  /** [px] Height to keep free below it, for peaks that point down. */
  readonly margin: number;
}

/** Chooses how the labels of some peaks are set, with so many pixels to a minute. */
export function labelSetting(peaks: readonly PeakShape[], content: LabelContent, scale: number): LabelSetting {
  const sizes = peaks.map((shape) => widest(versions(shape, content, false)[0]!) + 12);
  // Rows that fill up where the peaks stand closest.
  const rows = peaks.map(({ peak: { retentionTime } }) => {
    const near = sizes.filter((_, i) => Math.abs(peaks[i]!.peak.retentionTime - retentionTime) * scale <= 120);
    return near.reduce((sum, size) => sum + size, 0) / 240;
  });
  const crowd = Math.max(0, ...rows);
  const upright = crowd > 2.1;
  const texts = peaks.flatMap((shape) => versions(shape, content, upright)[0]!);
  const tall = content === 'time' ? 22 : 2 * lineSpacing + 4;
  const extent = upright ? widest(texts) + 12 : Math.ceil(crowd) * tall + 4;
  const down = peaks.some(({ peak }) => peak.direction === 'down');
  return { upright, strip: Math.max(extent, 24), margin: down ? Math.max(extent, 48) : 14 };
}

/** Labels of peaks, the tallest first, then of what was set apart, at a level. */
export function chromatogramLabels(
  peaks: readonly PeakShape[],
  content: LabelContent,
  upright: boolean,
  bands: readonly Disturbance[],
  level: number,
): LabelRequest[] {
  if (content === 'none') return [];
  const named = peaks
    .toSorted((a, b) => Math.abs(b.peak.height) - Math.abs(a.peak.height))
    .map((shape): LabelRequest => ({
      x: shape.peak.retentionTime,
      y: shape.head,
      down: shape.peak.direction === 'down',
      versions: versions(shape, content, upright),
    }));
  // Bands of one kind that touch share the label of the first.
  const first = bands.filter(({ kind, start }, i) => !(kind === bands[i - 1]?.kind && start <= bands[i - 1]!.end));
  return [...named, ...first.map(({ at, kind }) => ({ x: at, y: level, versions: [[kind]], apart: true }))];
}

function versions({ peak }: PeakShape, content: LabelContent, upright: boolean): string[][] {
  const time = peak.retentionTime.toFixed(2);
  const name = peak.name?.trim();
  if (content === 'time' || !name) return [[time]];
  const short = fitText(name, upright ? 160 : 280);
  return [upright ? [`${time}  ${short}`] : [short, time], [time]];
}
