import { existsSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { anchors, markdownFiles, prose } from '../support/markdown.js';

/** Targets of links and pictures within the project. */
function targets(file: string): string[] {
  const text = prose(file);
  return [...text.matchAll(/\]\(([^)\s]+)(?: "[^"]*")?\)/g), ...text.matchAll(/(?:src|href)="([^"]+)"/g)]
    .map(([, target]) => target!)
    .filter((target) => !/^[a-z]+:/i.test(target));
}

/** What is wrong with a link, or nothing. */
function problem(file: string, target: string): string | undefined {
  const [page = '', anchor] = target.split('#');
  if (page.startsWith('/')) return `${file}: ${target} does not start at the page`;
  const place = page === '' ? file : path.join(path.dirname(file), decodeURIComponent(page));
  if (!existsSync(place)) return `${file}: ${target} leads to no file`;
  if (anchor && !anchors(place).includes(anchor)) return `${file}: ${target} leads to no heading`;
  return undefined;
}

const files = markdownFiles();

test('The pages are found', () => {
  expect(files).toContain('README.md');
  expect(files).toContain('DEVELOPERS.md');
  expect(files).toContain(path.join('docs', 'errors.md'));
});

test.each(files)('Every link and picture of %s leads somewhere', (file) => {
  expect(targets(file).flatMap((target) => problem(file, target) ?? [])).toStrictEqual([]);
});

describe('The check of links', () => {
  const page = path.join(mkdtempSync(path.join(tmpdir(), 'peakwright-links-')), 'page.md');
  writeFileSync(
    page,
    '# The *first* `part`, really\n\n[a](#the-first-part-really) [b](#no) [c](gone.md) ![d](page.md "title")\n\n```md\n[e](nowhere)\n```\n',
  );

  test('finds what leads nowhere and passes what does not', () => {
    const found = targets(page).flatMap((target) => problem(page, target) ?? []);
    expect(found).toStrictEqual([`${page}: #no leads to no heading`, `${page}: gone.md leads to no file`]);
  });
});
