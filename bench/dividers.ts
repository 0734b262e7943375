/**
 * Which divider errs least for the smaller of two peaks of known truth: Gaussians and exponentially modified Gaussians of
 * one shape, without noise, over a grid of size ratio, resolution, tailing and side, divided by the library's own code.
 * Prints the error of each divider, the best, and what the standard policy would choose.
 *
 * npm run bench:dividers -- [--table]
 */
import { divideSampled, samplePair } from '../src/integration/divide-pair.js';
import { choiceFor, situationOf, standardDivisionPolicy } from '../src/integration/division-policy.js';
import { emgHalves } from '../src/integration/emg-halves.js';
import type { EmgPair } from '../src/integration/pair-shape.js';
import { dividers, type Divider } from '../src/integration/plan.js';
import { emg, emgFromApex } from '../src/index.js';

const ratios = [1, 0.7, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005];
const resolutions = [0.8, 1, 1.25, 1.5, 2, 2.5, 3];
const tailings = [-2, -1, 0, 0.5, 0.75, 1, 1.25, 1.5, 2, 3];

/** Two of one shape at so much resolution (by widths at half height), the smaller before or after. */
function pairAt(tailing: number, ratio: number, resolution: number, smaller: 0 | 1): EmgPair {
  const halves = emgHalves(tailing, 0.5);
  const distance = (2 * resolution * (halves.front + halves.back)) / Math.sqrt(2 * Math.log(2));
  const curve = (position: number, height: number) => emgFromApex({ position, height, sigma: 1, tau: tailing });
  return {
    curves: [curve(0, smaller === 0 ? ratio : 1), curve(distance, smaller === 1 ? ratio : 1)],
    smaller,
  };
}

const percent = (value: number | undefined): string =>
  (value === undefined
    ? '-'
    : `${value > 0 ? '+' : ''}${(100 * value).toFixed(Math.abs(value) < 0.1 ? 1 : 0)}`
  ).padStart(7);

const everyRow = process.argv.includes('--table');
const lost = new Map<string, number[]>();
const note = (name: string, value: number): void => void lost.set(name, [...(lost.get(name) ?? []), value]);

for (const smaller of [1, 0] as const) {
  for (const tailing of tailings) {
    if (everyRow) {
      console.log(
        `\ntau/sigma ${tailing}, the smaller peak ${smaller === 1 ? 'after' : 'before'}: error of its area, %`,
      );
      console.log(
        `${'height'.padStart(7)}${'Rs'.padStart(6)}${'asym'.padStart(6)}${'valley'.padStart(8)}${dividers.map((d) => d.replace('valley to valley', 'valley').replace(' skim', '').slice(0, 6).padStart(7)).join('')}  best / policy`,
      );
    }
    for (const ratio of ratios) {
      for (const resolution of resolutions) {
        const pair = pairAt(tailing, ratio, resolution, smaller);
        const sampled = samplePair(pair);
        if (sampled.valley === undefined) continue;
        const at = (t: number) => emg(t, pair.curves[0]) + emg(t, pair.curves[1]);
        const valley = at(sampled.valley) / Math.min(at(sampled.apexes[0]), at(sampled.apexes[1]));
        // Where the valley is a fiftieth of the lower peak or less, the two are separate and nothing divides.
        if (valley <= 0.02) continue;
        const truth = sampled.areas[smaller];
        const errors = dividers.map((divider) => {
          const areas = divideSampled(sampled, divider);
          return areas && areas[smaller] / truth - 1;
        });
        const sizes = errors.map((e) => Math.abs(e ?? Infinity));
        const best = sizes.indexOf(Math.min(...sizes));
        const situation = situationOf(pair, valley);
        const choice = choiceFor(standardDivisionPolicy, situation);
        const chosen: Divider = standardDivisionPolicy[choice]?.use ?? 'drop line';
        const cap = (x: number): number => Math.min(x, 1);
        note('best', cap(sizes[best]!));
        dividers.forEach((divider, k) => note(divider, cap(sizes[k]!)));
        note('policy', cap(sizes[dividers.indexOf(chosen)]!));
        if (everyRow) {
          console.log(
            `${String(ratio).padStart(7)}${resolution.toFixed(2).padStart(6)}${situation.asymmetry.toFixed(2).padStart(6)}${valley.toFixed(3).padStart(8)}${errors.map(percent).join('')}  ${dividers[best]!}${chosen === dividers[best] ? '' : ` / ${chosen}`}`,
          );
        }
      }
    }
  }
}
console.log('\nmean error of the smaller peak (each counted as 100 % at most), median, within 5 %');
for (const [name, values] of lost) {
  const sorted = [...values].sort((a, b) => a - b);
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  console.log(
    `${name.padEnd(18)}${percent(mean)}${percent(sorted[sorted.length >> 1])}${percent(values.filter((v) => v <= 0.05).length / values.length)}   of ${values.length}`,
  );
}
