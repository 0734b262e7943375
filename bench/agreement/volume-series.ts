import type { ReportedPeak } from './reported.js';
import { gate, libraryExport, unmeasured } from '../library.js';

/** What this bench reads of a fitted line. */
interface Line {
  readonly intercept: { readonly value: number; readonly standardUncertainty: number };
  readonly volumeOffset?: { readonly value: number; readonly standardUncertainty: number };
  readonly points: readonly {
    readonly volume?: number;
    readonly injection?: string;
    readonly relativeResidual?: number;
  }[];
}
type Fit = (points: readonly object[], options: object) => Line;

interface Response {
  readonly table: ReportedPeak;
  /** [µV s] */
  readonly area: number;
}

/** Lines of area against amount for every component of every solution, and what they share. */
export function printSeries(responses: readonly Response[]): void {
  const fit = libraryExport('fitCalibration') as Fit | undefined;
  if (fit === undefined) {
    unmeasured('the library exports no fitCalibration');
    return;
  }
  if (responses.length === 0) return;
  const offsets: number[] = [];
  const atTen: number[] = [];
  for (const solution of [...new Set(responses.map((r) => r.table.solution))]) {
    const concentration = Number(/^([\d.]+) mM/.exec(solution)?.[1] ?? '1');
    for (const component of components(responses.filter((r) => r.table.solution === solution))) {
      if (component.length < 5) continue;
      const of = (area: (r: Response) => number): Line =>
        fit(
          component.map((r) => ({ concentration, volume: r.table.volume, response: area(r), injection: r.table.file })),
          { responseUnit: 'µV s', concentrationUnit: 'mmol/L' },
        );
      const own = of((r) => r.area);
      const foreign = of((r) => r.table.area);
      const minute = component[0]!.table.retentionTime.toFixed(1);
      const offset = own.volumeOffset;
      if (offset === undefined) {
        unmeasured(`${solution}, ${minute} min: no volume offset`);
        continue;
      }
      offsets.push(offset.value);
      const ten = own.points.find((p) => p.volume === 10)?.relativeResidual;
      if (ten !== undefined) atTen.push(ten);
      console.log(
        `${solution}, ${minute} min: offset ${signed(offset.value, 2)} ± ${offset.standardUncertainty.toFixed(2)} µL (areas of the table: ${signed(foreign.volumeOffset?.value ?? NaN, 2)})`,
      );
      console.log(
        `   residuals ${own.points.map((p) => `${p.volume ?? NaN} µL ${signed(p.relativeResidual ?? NaN, 1)} %`).join(', ')}`,
      );
    }
  }
  // the areas of the table themselves give +0.9 to +1.9 µL, each with an uncertainty of about 1 µL
  console.log(`median offset ${signed(median(offsets), 2)} µL`);
  gate('distance of the median offset from +1.25 µL', Math.abs(median(offsets) - 1.25), 0.75);
  gate('shared dip at 10 µL: median residual of the components [%], negative', median(atTen), -0.5);
}

/** Responses of one solution split where the retention times leave a gap. */
function components(responses: readonly Response[]): Response[][] {
  const groups: Response[][] = [];
  for (const r of [...responses].sort((a, b) => a.table.retentionTime - b.table.retentionTime)) {
    const group = groups[groups.length - 1];
    if (group !== undefined && r.table.retentionTime - group[group.length - 1]!.table.retentionTime < 0.5)
      group.push(r);
    else groups.push([r]);
  }
  return groups.map((group) => group.sort((a, b) => a.table.volume - b.table.volume));
}

function signed(value: number, digits: number): string {
  return `${value < 0 ? '' : '+'}${value.toFixed(digits)}`;
}

function median(values: readonly number[]): number {
  if (values.length === 0) return NaN;
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
}
