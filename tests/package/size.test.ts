import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import { describe, expect, test } from 'vitest';

/** What a page would load: bundled for browsers, minified. */
async function bundle(contents: string): Promise<{ readonly code: string; readonly kilobytes: number }> {
  const { outputFiles } = await build({
    stdin: { contents, resolveDir: process.cwd() },
    bundle: true,
    write: false,
    minify: true,
    format: 'esm',
    platform: 'browser',
    target: 'es2022',
    legalComments: 'none',
    logLevel: 'error',
  });
  const code = outputFiles[0]!.text;
  return { code, kilobytes: gzipSync(code, { level: 9 }).length / 1000 };
}

describe('In a browser', () => {
  test('the whole library is at most 60 kB, dependencies included, compressed', async () => {
    const { kilobytes } = await bundle("export * from 'peakwright';");
    console.log(`whole browser entry: ${kilobytes.toFixed(1)} kB (gzip -9), at most 60`);
    expect(kilobytes).toBeLessThanOrEqual(60);
  });

  test('createTrace and analyse alone are at most 25 kB', async () => {
    const { kilobytes } = await bundle("export { createTrace, analyse } from 'peakwright';");
    console.log(`createTrace + analyse: ${kilobytes.toFixed(1)} kB (gzip -9), at most 25`);
    expect(kilobytes).toBeLessThanOrEqual(25);
  });

  test('it needs nothing of Node and evaluates no text as code, so that a strict content policy holds', async () => {
    // Bundling for browsers fails by itself on an import of a built-in module.
    const { code } = await bundle("export * from 'peakwright';");
    expect(code).not.toMatch(/\bnew Function\b|\bFunction\(|\beval\(/);
    expect(code).not.toMatch(/\brequire\(|\bprocess\.|\bBuffer\.|["']node:/);
  });
});
