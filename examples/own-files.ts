import path from 'node:path';
import {
  analyse,
  isPeakwrightError,
  renderChromatogram,
  renderPeakTable,
  renderResultJson,
  type FileOptions,
} from 'peakwright';
import { readTraceFile } from 'peakwright/node';
import { openOutput } from './output.js';
import { peakTable } from './peak-table.js';

/** Integrates the reader's own files; answers how many could not be. A file that fails does not stop the others. */
export async function integrateFiles(files: readonly string[], folder: string, options: FileOptions): Promise<number> {
  const output = openOutput(folder, files);
  const names = new Set<string>();
  let failed = 0;
  for (const file of files) {
    console.log(`\n${file}`);
    try {
      const { traces, diagnostics } = await readTraceFile(file, options);
      for (const { message } of diagnostics) console.log(`  note: ${message}`);
      for (const trace of traces) {
        const { channel } = trace.meta;
        if (traces.length > 1) console.log(`  channel ${channel ?? '?'}`);
        const analysis = analyse(trace);
        console.log(peakTable(analysis));
        const name = freeName(names, file, traces.length > 1 ? channel : undefined);
        output.write(`${name}.svg`, renderChromatogram(analysis));
        output.write(`${name}.peaks.csv`, renderPeakTable(analysis));
        output.write(`${name}.json`, renderResultJson(analysis));
      }
    } catch (error) {
      failed += 1;
      console.error(`  NOT DONE: ${reason(error)}`);
    }
  }
  console.log(`\n${output.summary()}`);
  if (failed > 0)
    console.error(`\n${failed} of ${files.length} files could not be integrated; the reasons stand above.`);
  return failed;
}

/** Name for the results of a file: its own without ending, with the channel, with a number when it is taken. */
function freeName(taken: Set<string>, file: string, channel?: string): string {
  const stem = path.basename(file, path.extname(file));
  const base = [stem, channel]
    .filter((part) => part !== undefined)
    .join('-')
    .replaceAll(/[^\p{L}\p{N}._-]+/gu, '-');
  let name = base;
  for (let i = 2; taken.has(name.toLowerCase()); i++) name = `${base}-${i}`;
  taken.add(name.toLowerCase());
  return name;
}

/** The sentence of an error, with the options of the library in the spelling of this command. */
function reason(error: unknown): string {
  if (!isPeakwrightError(error)) return error instanceof Error ? error.message : String(error);
  return error.message
    .replace(/^\w+: /, '')
    .replaceAll(/\b(timeUnit|signalUnit): '([^']+)'/g, (_, option: string, unit: string) =>
      option === 'timeUnit' ? `--time-unit=${unit}` : `--signal-unit=${unit}`,
    );
}
