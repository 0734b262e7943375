import { analyse, createTrace, integrate, type Peak } from '../src/index.js';
import { areaByHand, planFromTable } from './agreement/reintegrate.js';
import { readReported, readSamples, type ReportedPeak } from './agreement/reported.js';
import { printSeries } from './agreement/volume-series.js';
import { gate, median } from './gates.js';

const [folder] = process.argv.slice(2);
if (folder === undefined)
  throw new Error('npm run bench:agreement -- FOLDER: a folder with reported_peaks.csv and the traces it names');

/** [µV s] Smaller peaks say more about the rounding of the table than about us. */
const leastArea = 20000;

const reported = readReported(folder);
const files = [...new Set(reported.map((p) => p.file))];
const traces = new Map(
  files.map((file) => {
    const { time, signal } = readSamples(folder, file);
    return [file, createTrace({ time, signal, timeUnit: 'min', signalUnit: 'µV' })];
  }),
);

console.log('At the limits of the table, one straight line under each group of touching peaks');
compareAtLimits();
console.log('\nWith limits of our own');
const matches = compareOwn();
console.log('\nOne standard at several volumes');
printSeries(matches.map(({ table, own }) => ({ table, area: own.area })));

function compareAtLimits(): void {
  let worst = 0;
  let worstByHand = 0;
  let worstSmall = 0;
  console.log(row(['file', 'min', 'reported', 'ours', 'ours %', 'by hand %']));
  for (const file of files) {
    const trace = traces.get(file)!;
    const own = reported.filter((p) => p.file === file);
    const plan = planFromTable(trace.time, trace.signal, own);
    const integrated = integrate(trace, plan).peaks;
    plan.regions.forEach((region, g) => {
      const line = plan.baselines[g]!;
      for (const planned of region.peaks) {
        const table = own.find((p) => p.retentionTime === planned.apex)!;
        const byHand = areaByHand(trace.time, trace.signal, planned.start, planned.end, [
          line.time[0]!,
          line.time[1]!,
          line.value[0]!,
          line.value[1]!,
        ]);
        const area = integrated.find((p) => p.id === planned.id)?.area;
        const percent = (a: number): number => 100 * (a / table.area - 1);
        console.log(
          row([
            file,
            table.retentionTime.toFixed(3),
            String(table.area),
            area?.toFixed(0) ?? '-',
            area === undefined ? '-' : percent(area).toFixed(3),
            percent(byHand).toFixed(3),
          ]),
        );
        const ours = area === undefined ? Infinity : Math.abs(percent(area));
        if (table.area > leastArea) {
          worst = Math.max(worst, ours);
          worstByHand = Math.max(worstByHand, Math.abs(percent(byHand)));
        } else worstSmall = Math.max(worstSmall, ours);
      }
    });
  }
  console.log(
    `largest difference of the trapezoids by hand above ${leastArea} µV s: ${worstByHand.toFixed(3)} %; of ours for smaller peaks: ${worstSmall.toFixed(3)} %`,
  );
  gate(`areas above ${leastArea} µV s at the reported limits [%, largest]`, worst, 0.2);
}

function compareOwn(): { table: ReportedPeak; own: Peak }[] {
  const matched: { table: ReportedPeak; own: Peak }[] = [];
  const tailing: number[] = [];
  const plates: number[] = [];
  let absent = 0;
  for (const file of files) {
    const { peaks } = analyse(traces.get(file)!);
    const used = new Set<Peak>();
    for (const table of reported.filter((p) => p.file === file)) {
      const own = [...peaks]
        .filter((p) => !used.has(p) && p.retentionTime > table.start && p.retentionTime < table.end)
        .sort(
          (a, b) => Math.abs(a.retentionTime - table.retentionTime) - Math.abs(b.retentionTime - table.retentionTime),
        )[0];
      if (own === undefined || Math.abs(own.retentionTime - table.retentionTime) > 0.1) {
        console.log(`${file} ${table.retentionTime.toFixed(3)} min (${table.area} µV s): not found`);
        continue;
      }
      used.add(own);
      matched.push({ table, own });
      const area = 100 * (own.area / table.area - 1);
      if (Math.abs(area) > 3) {
        console.log(
          `${file} ${table.retentionTime.toFixed(3)} min: area ${own.area.toFixed(0)} for ${table.area} (${area.toFixed(1)} %), limits ${own.start.toFixed(3)}-${own.end.toFixed(3)} (${own.startKind}, ${own.endKind}) for ${table.start}-${table.end}, height ${own.height.toFixed(0)} for ${table.height}`,
        );
      }
      if (own.tailingFactor === undefined || own.plates.tangent === undefined) absent++;
      if (own.tailingFactor !== undefined) tailing.push(100 * Math.abs(own.tailingFactor / table.tailing - 1));
      if (own.plates.tangent !== undefined) plates.push(100 * Math.abs(own.plates.tangent / table.plates - 1));
    }
    for (const p of peaks) {
      if (!used.has(p))
        console.log(
          `${file} ${p.retentionTime.toFixed(3)} min: ours alone, area ${p.area.toFixed(0)} µV s, height ${p.height.toFixed(1)} µV, ${p.start.toFixed(3)}-${p.end.toFixed(3)}`,
        );
    }
  }
  console.log(`${matched.length} of ${reported.length} reported peaks found; tailing or plates absent on ${absent}`);
  gate('tailing against the table [%, median of the absolute differences]', median(tailing), 2);
  gate('tangent plates against the table [%, median of the absolute differences]', median(plates), 3);
  return matched;
}

function row(texts: readonly string[]): string {
  return texts.map((t, i) => (i === 0 ? t.padEnd(24) : t.padStart(12))).join('');
}
