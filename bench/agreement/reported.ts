import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** One row of the foreign peak table. */
export interface ReportedPeak {
  readonly file: string;
  readonly solution: string;
  /** [µL] */
  readonly volume: number;
  /** [min] */
  readonly retentionTime: number;
  readonly start: number;
  readonly end: number;
  /** [µV s] */
  readonly area: number;
  /** [µV] */
  readonly height: number;
  /** [-] */
  readonly plates: number;
  readonly tailing: number;
}

const wanted = [
  'file',
  'solution',
  'injection_uL',
  'rt_min',
  'start_min',
  'end_min',
  'area_uV_s',
  'height_uV',
  'plates',
  'tailing',
] as const;

/** Reads the table of reported peaks of a folder. */
export function readReported(folder: string, name = 'reported_peaks.csv'): ReportedPeak[] {
  const [header = [], ...rows] = readRows(join(folder, name));
  const places = wanted.map((column) => {
    const place = header.indexOf(column);
    if (place < 0) throw new Error(`${name} has no column ${column}; found ${header.join(', ')}`);
    return place;
  });
  return rows.map((cells, i) => {
    const text = (k: number): string => cells[places[k]!] ?? '';
    const number = (k: number): number => {
      const value = Number(text(k));
      if (text(k) === '' || !Number.isFinite(value))
        throw new Error(`${name} row ${i + 2}: ${wanted[k]!} is no number: "${text(k)}"`);
      return value;
    };
    return {
      file: text(0),
      solution: text(1),
      volume: number(2),
      retentionTime: number(3),
      start: number(4),
      end: number(5),
      area: number(6),
      height: number(7),
      plates: number(8),
      tailing: number(9),
    };
  });
}

/** Reads a trace of two columns: minutes, microvolts. */
export function readSamples(folder: string, file: string): { time: Float64Array; signal: Float64Array } {
  const [header = [], ...rows] = readRows(join(folder, file));
  if (header[0] !== 'time_min' || header[1] !== 'signal_uV')
    throw new Error(`${file}: expected columns time_min and signal_uV, found ${header.join(', ')}`);
  return { time: Float64Array.from(rows, (r) => Number(r[0])), signal: Float64Array.from(rows, (r) => Number(r[1])) };
}

/** Groups of reported peaks of one run that touch, in order of time. */
export function groupTouching(peaks: readonly ReportedPeak[]): ReportedPeak[][] {
  const groups: ReportedPeak[][] = [];
  for (const peak of [...peaks].sort((a, b) => a.start - b.start)) {
    const group = groups[groups.length - 1];
    const before = group?.[group.length - 1];
    if (group !== undefined && before !== undefined && peak.start <= before.end + 0.0015) group.push(peak);
    else groups.push([peak]);
  }
  return groups;
}

function readRows(path: string): string[][] {
  return readFileSync(path, 'utf8')
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '')
    .map((line) => line.split(',').map((cell) => cell.trim()));
}
