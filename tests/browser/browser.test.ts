import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type * as computations from './look.js';
import type { Look } from './look.js';

type Computations = typeof computations;

const executablePath = process.env['CHROMIUM'] ?? '/usr/bin/chromium';
const isThere = existsSync(executablePath);
const isRequired = process.env['REQUIRE_BROWSER'] === '1';

if (!isThere && !isRequired) {
  console.warn(`
*** NO BROWSER: ${executablePath} is not installed, so nothing was tried in a browser. ***
*** Install Chromium (or say where it is with CHROMIUM=path), or run .ci/run, which does. ***
`);
}

/** A page that allows scripts of its own address only, and no text run as code. */
const address = 'http://peakwright.test/';
const policy = "default-src 'none'; script-src 'self'; img-src data:";

describe.skipIf(!isThere && !isRequired)('In Chromium', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'peakwright-browser-'));
  const complaints: string[] = [];
  let browser: Browser;
  let page: Page;
  let node: Computations;

  beforeAll(async () => {
    if (!isThere) throw new Error(`REQUIRE_BROWSER is 1 and ${executablePath} is not installed`);
    const { outputFiles } = await build({
      entryPoints: ['tests/browser/look.ts'],
      bundle: true,
      write: false,
      format: 'esm',
      platform: 'browser',
      target: 'es2022',
      tsconfigRaw: '{}', // the built package, not its sources
    });
    const bundle = outputFiles[0]!.text;
    const file = path.join(folder, 'bundle.mjs');
    writeFileSync(file, bundle);
    node = (await import(/* @vite-ignore */ pathToFileURL(file).href)) as Computations;

    browser = await chromium.launch({
      executablePath,
      args: ['--no-sandbox', '--disable-background-networking', '--disable-gpu'],
    });
    page = await browser.newPage();
    page.on('pageerror', (error) => complaints.push(error.message));
    page.on('console', (message) => complaints.push(message.text()));
    await page.route('**/*', (route) => {
      const isScript = route.request().url().endsWith('/bundle.mjs');
      return isScript
        ? route.fulfill({ contentType: 'text/javascript', body: bundle })
        : route.fulfill({
            contentType: 'text/html',
            headers: { 'content-security-policy': policy },
            body: '<!doctype html><title>Peakwright</title><link rel="icon" href="data:,">',
          });
    });
    await page.goto(address);
  });

  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  /** Calls in the page; as text, because the test runner rewrites functions. */
  async function run<T>(name: keyof Computations, argument = ''): Promise<T> {
    const call = `module.${name}(${JSON.stringify(argument)})`;
    return page.evaluate<T>(`import('${address}bundle.mjs').then((module) => ${call})`);
  }

  test('every number has the bits it has in Node', async () => {
    const inBrowser = await run<Record<string, string>>('compute');
    console.log(`compared with ${browser.version()}: ${Object.keys(inBrowser).join(', ')}`);
    expect(Object.keys(inBrowser).length).toBeGreaterThan(5);
    expect(inBrowser).toStrictEqual(node.compute());
  });

  test('a Gaussian that takes the exponential of the engine is the same to 1e-14 of its height', async () => {
    const inBrowser = await run<number[]>('gaussianValues');
    const differences = node.gaussianValues().map((value, i) => Math.abs(value - inBrowser[i]!));
    expect(Math.max(...differences)).toBeLessThan(1e-14);
  });

  test('pictures are well-formed, can be shown, and no text of theirs lies on another', async () => {
    const seen = Object.entries(await run<Record<string, Look>>('look'));
    expect(seen.map(([name]) => name)).toStrictEqual(Object.keys(node.pictures()));
    for (const [name, { fault, width, texts, overlaps }] of seen) {
      expect({ name, fault, overlaps }).toStrictEqual({ name, fault: '', overlaps: [] });
      expect(width).toBeGreaterThan(200);
      expect(texts).toBeGreaterThan(5);
    }
  });

  test('a text that lies on another would be seen', async () => {
    const { chromatogram } = await run<Record<string, Look>>('look', '<text y="99">one</text><text y="99">two</text>');
    expect(chromatogram!.overlaps).toContain('one | two');
  });

  test('nothing is printed, thrown or refused by a strict content policy', () => {
    expect(complaints).toStrictEqual([]);
  });
});
