import { coordinate } from './markup.js';
import { place, type Scale } from './scale.js';
import type { LinePiece } from './trace-line.js';

/** Path data of a line that may have breaks. */
export function linePath(pieces: readonly LinePiece[], x: Scale, y: Scale): string {
  return pieces.map((piece) => points(piece, x, y, 'M')).join('');
}

/** Path data of the area between signal and baseline: along the signal, back along the baseline. */
export function areaPath(signal: readonly LinePiece[], base: LinePiece, x: Scale, y: Scale): string {
  if (signal.length === 0) return '';
  const start = `M${coordinate(place(x, base.time[0]!))} ${coordinate(place(y, base.value[0]!))}`;
  const along = signal.map((piece) => points(piece, x, y, 'L')).join('');
  return `${start}${along}${points({ time: base.time.toReversed(), value: base.value.toReversed() }, x, y, 'L')}Z`;
}

function points(piece: LinePiece, x: Scale, y: Scale, first: 'M' | 'L'): string {
  let text = '';
  for (let i = 0; i < piece.time.length; i++) {
    const command = i === 0 ? first : 'L';
    text += `${command}${coordinate(place(x, piece.time[i]!))} ${coordinate(place(y, piece.value[i]!))}`;
  }
  // A single sample has no length: a short stroke makes it visible.
  if (first === 'M' && piece.time.length === 1) text += 'h0.6';
  return text;
}
