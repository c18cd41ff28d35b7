import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { defineConfig, type Plugin } from 'vitest/config';

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

/** Tests that start processes or threads of the server, which run from `dist`. */
const ON_DIST = ['tests/server', 'tests/cluster', 'tests/browser'];

/** Takes engine and server from `dist` as Node does in production, so that no test runs on source and `dist` at once. */
function onDist(): Plugin {
  const root = import.meta.dirname;
  return {
    name: 'on-dist',
    enforce: 'pre',
    resolveId(source, importer) {
      if (!source.startsWith('.') || importer === undefined) return null;
      const path = relative(root, resolve(dirname(importer), source));
      if (!/^(?:engine|server)\/.*\.ts$/.test(path)) return null;
      return join(root, 'dist', path.replace(/\.ts$/, '.js'));
    },
  };
}

const externalDist = { deps: { external: [/\/dist\/(?:engine|server)\//] } };

/**
 * Projects with `isolate: false`: a worker reads its modules once for all files that it runs, instead of once for each. The engine keeps
 * nothing in its modules and browser tests talk to other processes; modules of the page keep texts, those of the server timers and connections.
 */
const shared = {
  testTimeout: HUNG_MS,
  hookTimeout: HUNG_MS,
  expect: { poll: { timeout: 60_000, interval: 20 } },
  setupFiles: [
    'tests/support/property-seed.ts',
    // `npm run coverage` sets it, for the processes and threads that tests start as well.
    ...(process.env.NODE_V8_COVERAGE === undefined ? [] : ['tests/support/take-coverage.ts']),
  ],
};

export default defineConfig({
  test: {
    reporters: ['default', ['json', { outputFile: `dist/test-results${isLong ? '-long' : ''}.json` }]],
    maxWorkers: 3,
    projects: [
      {
        test: {
          ...shared,
          name: 'engine',
          include: testFiles('tests'),
          exclude: [...ON_DIST, 'tests/web'].map((folder) => `${folder}/**`),
          isolate: false,
        },
      },
      {
        test: { ...shared, name: 'page', include: testFiles('tests/web') },
      },
      {
        plugins: [onDist()],
        test: {
          ...shared,
          server: externalDist,
          name: 'server',
          include: [...testFiles('tests/server'), ...testFiles('tests/cluster')],
        },
      },
      {
        plugins: [onDist()],
        test: {
          ...shared,
          server: externalDist,
          name: 'browser',
          include: testFiles('tests/browser'),
          globalSetup: 'tests/support/shared-stage.ts',
          isolate: false,
        },
      },
    ],
  },
});
