import type { Disturbance } from '../signal/index.js';
import type { PeakShape } from './chromatogram-model.js';
import type { Panel } from './figure.js';
import { lineSpacing, type LabelRequest } from './place-labels.js';
import { fitText, widest } from './text-width.js';

/** What peaks are labelled with. */
export type LabelContent = 'name and time' | 'time';

/**
 * Labels of a view: those of the peaks, the tallest first, then of what was set
 * apart, at a level. They run upwards where side by side they would need more
 * than two rows. With them goes the height to keep free above and below.
 *
 * @param scale - [px/min] Scale of time.
 */
export function chromatogramLabels(
  peaks: readonly PeakShape[],
  bands: readonly Disturbance[],
  level: number,
  content: LabelContent,
  scale: number,
): Required<Pick<Panel, 'labels' | 'upright' | 'strip' | 'margin'>> {
  const sizes = peaks.map((shape) => widest(versions(shape, content, false)[0]!) + 12);
  // Rows that fill up where the peaks stand closest.
  const rows = peaks.map(({ peak: { retentionTime } }) => {
    const near = sizes.filter((_, i) => Math.abs(peaks[i]!.peak.retentionTime - retentionTime) * scale <= 120);
    return near.reduce((sum, size) => sum + size, 0) / 240;
  });
  const crowd = Math.max(0, ...rows);
  const upright = crowd > 2.1;
  const named = peaks
    .toSorted((a, b) => Math.abs(b.peak.height) - Math.abs(a.peak.height))
    .map((shape): LabelRequest => ({
      x: shape.peak.retentionTime,
      y: shape.head,
      down: shape.peak.direction === 'down',
      versions: versions(shape, content, upright),
    }));
  const extent = upright
    ? widest(named.map((label) => label.versions[0]![0]!)) + 12
    : Math.ceil(crowd) * (2 * lineSpacing + 4) + 4;
  // Neighbours of one kind share a label.
  const kinds = bands.filter(({ kind }, i) => kind !== bands[i - 1]?.kind);
  return {
    labels: [...named, ...kinds.map(({ at, kind }) => ({ x: at, y: level, versions: [[kind]], apart: true }))],
    upright,
    strip: Math.max(extent, 24),
    margin: named.some(({ down }) => down) ? Math.max(extent, 48) : 14,
  };
}

function versions({ peak }: PeakShape, content: LabelContent, upright: boolean): string[][] {
  const time = peak.retentionTime.toFixed(2);
  const name = peak.name?.trim();
  if (content === 'time' || !name) return [[time]];
  const short = fitText(name, upright ? 160 : 280);
  return [upright ? [`${time}  ${short}`] : [short, time], [time]];
}
