import type { RunScore } from './score.js';
import {
  errorsByClass,
  intervals,
  measureErrors,
  overFloor,
  shareSplit,
  type ErrorSize,
  type Summary,
} from './summary.js';

/** What else is asked of the library, over all runs. */
export function printReport(scores: readonly RunScore[], alone: readonly RunScore[], total: Summary): void {
  const percent = (share: number | undefined, digits = 2): string =>
    share === undefined ? '-' : `${(share * 100).toFixed(digits)} %`;
  const size = (e: ErrorSize | undefined): string =>
    e === undefined ? '-'.padStart(30) : `${`${e.count}`.padStart(8)}${e.median.toPrecision(3).padStart(11)}${e.rms.toPrecision(3).padStart(11)}`; // prettier-ignore
  const print = (name: string, value: string): void => {
    console.log(`${name.padEnd(56)}${value}`);
  };
  console.log('');
  print('found: visible, S/N from 10', percent(total.recall));
  print('found: hidden, S/N from 10', percent(total.recallHidden));
  print('found: visible, S/N 3 to 10', percent(total.recallWeak));
  print('false peaks in a run, not on a disturbance', (total.falsePerRun - total.onDisturbancesPerRun).toFixed(3));
  print('disturbances taken for peaks, in a run', total.onDisturbancesPerRun.toFixed(3));
  print('real peaks called disturbances, in a run', total.takenForDisturbancePerRun.toFixed(4));

  console.log(`\n${'area error [%]'.padEnd(18)}${'all'.padStart(8)}${'median'.padStart(11)}${'RMS'.padStart(11)}${'isolated'.padStart(11)}${'median'.padStart(8)}${'RMS'.padStart(11)}`); // prettier-ignore
  for (const { name, all, isolated } of errorsByClass(scores)) console.log(`${name.padEnd(18)}${size(all)}${size(isolated)}`); // prettier-ignore

  console.log(`\n${'over the floor of information'.padEnd(34)}${'isolated'.padStart(10)}${'RMS error'.padStart(11)}${'typical'.padStart(10)}${'stated'.padStart(10)}`); // prettier-ignore
  const cell = (value: number | undefined): string => (value === undefined ? '-' : value.toPrecision(3)).padStart(10);
  for (const { name, count, rms, typical, stated } of overFloor(scores)) {
    console.log(`${name.padEnd(34)}${String(count).padStart(10)} ${cell(rms)}${cell(typical)}${cell(stated)}`);
  }

  const { height, retention, plates, tailing, resolution } = measureErrors(scores);
  console.log(
    '\nmedian of the absolute error, isolated peaks with S/N from 10 (resolution: every pair that was found)',
  );
  for (const [name, value] of Object.entries({ 'height [%]': height, 'retention [% of sigma]': retention, 'plates [%]': plates, 'tailing [%]': tailing, 'resolution [%]': resolution })) print(name, value?.toFixed(3) ?? '-'); // prettier-ignore

  const { present, isolated, divided } = intervals(scores);
  console.log('');
  print('found peaks with a stated uncertainty', percent(present));
  print(`95 % interval holds the truth, ${isolated?.count ?? 0} isolated peaks`, percent(isolated?.share));
  print(`95 % interval holds the truth, ${divided?.count ?? 0} divided peaks`, percent(divided?.share));
  const split = shareSplit(alone);
  print(`single peaks of outside shapes that were split, of ${split?.count ?? 0}`, percent(split?.share));
}
