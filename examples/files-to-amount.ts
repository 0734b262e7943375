import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { analyse, collectPoints, fitCalibration, identifyComponents, predictAmount, type Analysis } from 'peakwright';
import { readTrace } from 'peakwright/node';
import { simulateFiles } from './simulated-files.js';

// The folder with the runs of the quickstart; made when it is not there yet.
const folder = process.argv[2] ?? 'out/traces';
if (!existsSync(`${folder}/extract-2.csv`)) {
  mkdirSync(folder, { recursive: true });
  for (const { name, text } of simulateFiles()) writeFileSync(`${folder}/${name}`, text);
}

const vanillin = { name: 'vanillin', retentionTime: 6.765, window: 0.1 };
async function integrate(file: string): Promise<Analysis> {
  return identifyComponents(analyse(await readTrace(`${folder}/${file}.csv`)), [vanillin]);
}
const standards = [];
for (const volume of [2, 4, 6, 8, 10]) {
  standards.push({ concentration: 25, volume, analysis: await integrate(`standard-${volume}-ul`) });
}
const { points, responseUnit } = collectPoints('vanillin', standards);
const line = fitCalibration(points, { concentrationUnit: 'mg/L', responseUnit });
const extracts = [await integrate('extract-1'), await integrate('extract-2')];
const areas = extracts.flatMap(({ peaks }) => peaks.filter(({ name }) => name === 'vanillin').map(({ area }) => area));
const amount = predictAmount(line, areas, { volume: 10, intercept: 'injected volume', dilution: 100 });
if (amount.outcome === 'not determinable') throw new Error(amount.reason);
const { value, unit, interval } = amount.result;
console.log(`Intercept as a volume: ${line.volumeOffset?.value.toFixed(2)} ${line.units.volume}`);
console.log(
  `Vanillin: ${value.toFixed(0)} ${unit}, 95 % from ${interval?.from.toFixed(0)} to ${interval?.to.toFixed(0)}`,
);
