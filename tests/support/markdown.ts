import { readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';

/** A fenced block and where it stands. */
export interface CodeBlock {
  readonly file: string;
  /** Line of the opening fence, counted from 1. */
  readonly line: number;
  readonly language: string;
  readonly code: string;
  /** The text block that follows before the next heading, if the block promises an output. */
  readonly output: string | undefined;
}

/** The pages of the project: at the top, and in `docs` except what is generated there. */
export function markdownFiles(): string[] {
  const top = ts.sys.readDirectory('.', ['.md'], undefined, ['*.md'], 1);
  return [...top, ...ts.sys.readDirectory('docs', ['.md'], ['site'])].map((file) => path.relative('.', file)).sort();
}

/** Every fenced block of a page, with the output block that belongs to it. */
export function codeBlocks(file: string): CodeBlock[] {
  const text = readFileSync(file, 'utf8');
  const blocks = [...text.matchAll(/^```(\w*)\n(.*?)^```$/gms)];
  return blocks.map((match, i) => {
    const next = blocks[i + 1];
    const between = next && text.slice(match.index + match[0].length, next.index);
    const follows = next?.[1] === 'text' && !/^#/m.test(between!);
    return {
      file,
      line: text.slice(0, match.index).split('\n').length,
      language: match[1]!,
      code: match[2]!,
      output: follows ? next[2]! : undefined,
    };
  });
}

/** The page without its fenced blocks and inline code, in which brackets are no links. */
export function prose(file: string): string {
  return readFileSync(file, 'utf8')
    .replace(/^```.*?^```$/gms, '')
    .replace(/`[^`\n]*`/g, '');
}

/** Anchors of the headings of a page, as hosting sites make them. */
export function anchors(file: string): string[] {
  const text = readFileSync(file, 'utf8').replace(/^```.*?^```$/gms, '');
  const used = new Map<string, number>();
  return [...text.matchAll(/^#+ (.+)$/gm)].map(([, heading]) => {
    const slug = heading!
      .replace(/\[([^\]]*)\]\([^)]*\)/g, '$1')
      .trim()
      .toLowerCase()
      .replace(/[^\p{Letter}\p{Number}\s_-]/gu, '')
      .replace(/\s/g, '-');
    const count = used.get(slug) ?? 0;
    used.set(slug, count + 1);
    return count === 0 ? slug : `${slug}-${count}`;
  });
}
