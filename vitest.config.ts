import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

/** The long run is of the test files that read the depth, with many cases each: see tests/support/depth.ts. */
const isLong = process.env.TEST_DEPTH === 'long';

/** How long a test may hang. No measure of speed: the slowest takes a tenth of it where others keep both cores busy. */
const HUNG_MS = (isLong ? 60 : 5) * 60_000;

/** Test files below a folder that belong to this run. */
function testFiles(folder: string): string[] {
  if (!isLong) return [`${folder}/**/*.test.ts`];
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((path) => join(folder, path))
    .filter((path) => path.endsWith('.test.ts') && readFileSync(path, 'utf8').includes('support/depth.ts'));
}

const shared = {
  testTimeout: HUNG_MS,
  hookTimeout: HUNG_MS,
  expect: { poll: { timeout: 60_000, interval: 20 } },
  setupFiles: 'tests/support/property-seed.ts',
};

export default defineConfig({
  test: {
    reporters: ['default', ['json', { outputFile: `dist/test-results${isLong ? '-long' : ''}.json` }]],
    maxWorkers: 2,
    projects: [
      {
        test: {
          ...shared,
          name: 'node',
          include: testFiles('tests'),
          exclude: ['tests/browser/**'],
        },
      },
      {
        test: {
          ...shared,
          name: 'browser',
          include: testFiles('tests/browser'),
          globalSetup: 'tests/support/shared-stage.ts',
          // A worker reads its modules once for all files that it runs, instead of once for each.
          isolate: false,
        },
      },
    ],
  },
});
