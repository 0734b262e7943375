import path from 'node:path';
import { parseArgs } from 'node:util';
import { runDemo } from './demo.js';
import { runHard } from './hard.js';
import { integrateFiles } from './own-files.js';

const help = `Usage: npm run quickstart                      eight invented runs, from files to an amount
       npm run quickstart -- --hard            six hard invented runs, found beside put in
       npm run quickstart -- FILE...           integrates your own exported traces (text: CSV, TXT, ...)

Each run gives a picture (SVG), a peak table (CSV) and the whole result (JSON). Nothing is set by hand.

Options
  --out=FOLDER         where results go; "out" when not given. Files of the same name there are replaced,
                       files that were read never are
  --time-unit=UNIT     unit of the times when the file does not say: min, s, ...
  --signal-unit=UNIT   unit of the signal when the file does not say: mAU, AU, µV, ...
  --injected-at=TIME   when the injection was, on the time axis of the file; 0 when times count from it
  --channel=NAME       only this column of signal
  --hard               the six hard runs instead
  --help               this text

Exit code 0 when every file was integrated, 1 when one was not, 2 when the command was not understood.`;

// npm runs scripts in the folder of the package; the reader's paths count from where the reader is.
const here = process.env['INIT_CWD'] ?? process.cwd();

async function main(): Promise<number> {
  let parsed;
  try {
    parsed = parseArgs({
      allowPositionals: true,
      options: {
        help: { type: 'boolean', short: 'h' },
        hard: { type: 'boolean' },
        out: { type: 'string', default: 'out' },
        'time-unit': { type: 'string' },
        'signal-unit': { type: 'string' },
        'injected-at': { type: 'string' },
        channel: { type: 'string' },
      },
    });
  } catch (error) {
    console.error(`${error instanceof Error ? error.message : String(error)}\n\n${help}`);
    return 2;
  }
  const { values, positionals } = parsed;
  if (values.help) {
    console.log(help);
    return 0;
  }
  const folder = path.resolve(here, values.out);
  if (values.hard) {
    runHard(folder);
    return 0;
  }
  if (positionals.length === 0) {
    runDemo(folder);
    return 0;
  }
  const files = positionals.map((file) => path.resolve(here, file));
  const given = values['injected-at'];
  const injectedAt = given === undefined || given.trim() === '' ? undefined : Number(given.replace(',', '.'));
  if (given !== undefined && !Number.isFinite(injectedAt)) {
    console.error(`--injected-at must be a number; received "${given}".`);
    return 2;
  }
  const { channel, 'time-unit': timeUnit, 'signal-unit': signalUnit } = values;
  const options = { timeUnit, signalUnit, injectedAt, channel };
  return (await integrateFiles(files, folder, options)) === 0 ? 0 : 1;
}

process.exitCode = await main();
