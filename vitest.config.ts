import path from 'node:path';
import { defineConfig } from 'vitest/config';

/** `library` runs on the sources; `built` on what would be published, and builds it first when it is stale. */
export default defineConfig({
  test: {
    projects: [
      {
        resolve: {
          alias: [
            { find: /^peakwright$/, replacement: path.resolve('src/index.ts') },
            { find: /^peakwright\/node$/, replacement: path.resolve('src/node/index.ts') },
          ],
        },
        test: {
          name: 'library',
          include: ['tests/{unit,property,reference,truth,formats,docs}/**/*.test.ts'],
          setupFiles: ['tests/support/seed.ts'],
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'built',
          include: ['tests/{package,browser}/**/*.test.ts'],
          globalSetup: ['tests/support/build.ts'],
          testTimeout: 180_000,
          hookTimeout: 180_000,
        },
      },
    ],
  },
});
