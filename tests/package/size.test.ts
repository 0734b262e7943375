import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import { describe, expect, test } from 'vitest';

interface Bundle {
  readonly code: string;
  /** Compressed, in thousands of bytes. */
  readonly kilobytes: number;
  /** What it is made of, largest first, minified but not compressed. */
  readonly parts: string;
}

/** What a page would load: bundled for browsers, minified. */
async function bundle(contents: string): Promise<Bundle> {
  const { outputFiles, metafile } = await build({
    stdin: { contents, resolveDir: process.cwd() },
    bundle: true,
    write: false,
    metafile: true,
    minify: true,
    format: 'esm',
    platform: 'browser',
    target: 'es2022',
    legalComments: 'none',
    logLevel: 'error',
  });
  const code = outputFiles[0]!.text;
  const sizes = new Map<string, number>();
  for (const [file, { bytesInOutput }] of Object.entries(Object.values(metafile.outputs)[0]!.inputs)) {
    const [, part = file] = /(?:dist|node_modules)\/((?:@[^/]+\/)?[^/]+)/.exec(file) ?? [];
    sizes.set(part, (sizes.get(part) ?? 0) + bytesInOutput);
  }
  const parts = [...sizes]
    .filter(([, size]) => size > 100)
    .sort(([, a], [, b]) => b - a)
    .map(([part, size]) => `${part} ${(size / 1000).toFixed(1)}`)
    .join(', ');
  return { code, kilobytes: gzipSync(code, { level: 9 }).length / 1000, parts };
}

function expectAtMost(limit: number, what: string, { kilobytes, parts }: Bundle): void {
  console.log(`${what}: ${kilobytes.toFixed(1)} kB (gzip -9), at most ${limit}\n  before compression: ${parts}`);
  expect(kilobytes, `kB compressed; before: ${parts}`).toBeLessThanOrEqual(limit);
}

describe('In a browser', () => {
  test('the whole library is at most 112 kB, dependencies included, compressed', async () => {
    expectAtMost(112, 'whole browser entry', await bundle("export * from 'peakwright';"));
  });

  test('createTrace and analyse alone are at most 66 kB', async () => {
    expectAtMost(66, 'createTrace + analyse', await bundle("export { createTrace, analyse } from 'peakwright';"));
  });

  test('it needs nothing of Node and evaluates no text as code, so that a strict content policy holds', async () => {
    // Bundling for browsers fails by itself on an import of a built-in module.
    const { code } = await bundle("export * from 'peakwright';");
    expect(code).not.toMatch(/\bnew Function\b|\bFunction\(|\beval\(/);
    expect(code).not.toMatch(/\brequire\(|\bprocess\.|\bBuffer\.|["']node:/);
  });
});
