import { existsSync, mkdirSync, realpathSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/** A folder for results that never writes over what was read. */
export interface Output {
  /** Writes a file; refuses one that was read, and notes one that was there before. */
  readonly write: (name: string, text: string) => void;
  /** What was written, for the reader. */
  readonly summary: () => string;
}

/** Opens the folder, making it when it is not there. */
export function openOutput(folder: string, inputs: readonly string[] = []): Output {
  mkdirSync(folder, { recursive: true });
  const read = new Set(inputs.filter((file) => existsSync(file)).map((file) => realpathSync(file)));
  const written: string[] = [];
  const replaced: string[] = [];
  return {
    write: (name, text) => {
      const target = path.join(folder, name);
      const existed = existsSync(target);
      if (existed && read.has(realpathSync(target))) {
        throw new Error(`the result would replace ${target}, which was read. Choose another folder with --out.`);
      }
      mkdirSync(path.dirname(target), { recursive: true });
      writeFileSync(target, text);
      written.push(name);
      if (existed) replaced.push(name);
    },
    summary: () => {
      const place = path.resolve(folder);
      if (written.length === 0) return `Nothing was written to ${place}.`;
      const again =
        replaced.length === 0
          ? 'None of these names was there before.'
          : replaced.length === written.length
            ? 'All of them replaced files of the same name.'
            : `${replaced.length} of them replaced files of the same name: ${byStem(replaced).join('; ')}.`;
      return `${written.length} files are in ${place}:\n  ${byStem(written).join('\n  ')}\n${again}`;
    },
  };
}

/** `a.svg` and `a.json` as one entry, `a.svg .json`. */
function byStem(names: readonly string[]): string[] {
  const endings = new Map<string, string[]>();
  for (const name of names) {
    const dot = name.indexOf('.');
    const stem = name.slice(0, dot);
    endings.set(stem, [...(endings.get(stem) ?? []), name.slice(dot)]);
  }
  return Array.from(endings, ([stem, list]) => `${stem}${list.join(' ')}`);
}
