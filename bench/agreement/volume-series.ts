import { fitCalibration, sharedDeviations, type Calibration } from '../../src/index.js';
import { gate, median, unmeasured } from '../gates.js';
import type { ReportedPeak } from './reported.js';

interface Response {
  readonly table: ReportedPeak;
  /** [µV s] */
  readonly area: number;
}

/** [µL] The injection whose dip is looked for. */
const doubted = 10;

/** Lines of area against amount for every component of every solution, and what the components of one injection share. */
export function printSeries(responses: readonly Response[]): void {
  const offsets: number[] = [];
  const shared: number[] = [];
  for (const solution of [...new Set(responses.map((r) => r.table.solution))]) {
    console.log(solution);
    const lines: Calibration[] = [];
    for (const component of components(responses.filter((r) => r.table.solution === solution))) {
      if (component.length < 4) continue;
      const own = fitLine(component, (r) => r.area);
      const foreign = fitLine(component, (r) => r.table.area);
      lines.push(own);
      const offset = own.volumeOffset;
      if (offset === undefined) {
        unmeasured(`${own.component ?? ''}: no volume offset`);
        continue;
      }
      offsets.push(offset.value);
      console.log(
        `  ${own.component ?? ''}: offset ${signed(offset.value, 2)} ± ${offset.standardUncertainty.toFixed(2)} µL (areas of the table: ${signed(foreign.volumeOffset?.value ?? NaN, 2)})`,
      );
      console.log(
        `     residuals ${own.points.map((p) => `${p.volume ?? NaN} µL ${signed(p.relativeResidual ?? NaN, 1)} %`).join(', ')}`,
      );
    }
    if (lines.length < 2) continue;
    const { injections, text, probability } = sharedDeviations(lines);
    console.log(
      `  shared by the components: ${text}${probability === undefined ? '' : ` By chance with probability ${probability.toPrecision(2)}.`}`,
    );
    for (const { injection, shared: part, standardUncertainty, volumeError } of injections)
      console.log(
        `     ${injection}: ${signed(part ?? NaN, 1)} ± ${(standardUncertainty ?? NaN).toFixed(1)} %, ${signed(volumeError ?? NaN, 2)} µL`,
      );
    for (const injection of injections)
      if (injection.volume === doubted && injection.shared !== undefined) shared.push(injection.shared);
  }
  // the areas of the table themselves give +0.9 to +1.9 µL, each with an uncertainty of about 1 µL
  console.log(`median offset ${signed(median(offsets), 2)} µL`);
  gate('distance of the median offset from +1.25 µL', Math.abs(median(offsets) - 1.25), 0.75);
  gate(
    `shared part of the ${doubted} µL injections [%, the highest of the solutions]: a dip of 5 % or more`,
    shared.length === 0 ? NaN : Math.max(...shared),
    -5,
  );
}

function fitLine(component: readonly Response[], area: (r: Response) => number): Calibration {
  const { solution, retentionTime } = component[0]!.table;
  const concentration = Number(/^([\d.]+) mM/.exec(solution)?.[1] ?? '1');
  return fitCalibration(
    component.map((r) => ({ concentration, volume: r.table.volume, response: area(r), injection: r.table.file })),
    { responseUnit: 'µV s', concentrationUnit: 'mmol/L', component: `at ${retentionTime.toFixed(1)} min` },
  );
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
