/**
 * Tests say the same on a machine that is busy with something else: states are waited for, cases are counted, clocks are
 * given. Each list below is exact; an entry that nothing needs any more fails too.
 */
import { describe, expect, it } from 'vitest';
import { filesBelow, readSource } from './source-files.ts';

const tests = filesBelow('tests', ['.ts', '.js'])
  // These speak of what is forbidden, in order to find it.
  .filter((path) => !path.startsWith('tests/architecture/'))
  .map(readSource);
const server = filesBelow('server', ['.ts']).map(readSource);
const config = readSource('vitest.config.ts');

type Source = (typeof tests)[number];

/** Without comments, which may speak of what the code may not do. */
const codeOf = ({ text }: Source): string =>
  text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');

/** Paths of the files whose code matches. */
const filesWith = (pattern: RegExp, files: readonly Source[]): string[] =>
  files.filter((file) => pattern.test(codeOf(file))).map(({ path }) => path);

/** Benches measure time, and the mutation run ends what hangs; they are no tests. They wait for states all the same. */
const isTool = ({ path }: Source): boolean =>
  /^tests\/(?:bench|mutate)\//.test(path) && !path.endsWith('.test.ts');
const timeless = tests.filter((file) => !isTool(file));

/** Tests of what runs without a browser. */
const inNode = timeless.filter(
  ({ path }) => !path.startsWith('tests/browser/') && !/^tests\/support\/.*(?:browser|page)/.test(path),
);

/** All by which a program waits for a time. */
const TIMERS =
  /\bset(?:Timeout|Interval)\b|\btimers\/promises\b|\bscheduler\.wait\b|\bAtomics\.wait|\bsleep\b|\bdelay:/;
const CLOCKS = /\b(?:Date\.now|performance\.now|new Date\(\))/;
/** What goes by timers, tests and benches alike. */
const WITH_TIMERS = [
  // Ends what hangs.
  'tests/mutate/run-command.ts',
  // Hands that edit at a rate, for as long as a count takes or a bench measures; nobody waits for them.
  'tests/support/pacer.ts',
  'tests/support/until.ts',
];

describe('tests on a busy machine', () => {
  it('nothing sleeps, no bench either: `until` looks for a state, and is the only one that pauses in between', () => {
    expect(filesWith(TIMERS, tests)).toEqual(WITH_TIMERS);
  });

  it('no browser test waits for a time', () => {
    expect(filesWith(/\bwaitForTimeout\b/, tests)).toEqual([]);
  });

  it('no test is decided by how long something took', () => {
    expect(filesWith(CLOCKS, inNode)).toEqual([
      // When a link of the fixture ends, and when it was made.
      'tests/fixtures/store-2026-11/make/make-harbour.ts',
      'tests/fixtures/store-2026-11/make/make.ts',
      // Long searches, which no test runs, end after so many seconds.
      'tests/reference/lead-in-best-known.ts',
      // How long a long run took, for its report.
      'tests/server/chaos.ts',
      // Which of the fixture's links have ended by today.
      'tests/server/store/fixture-store.test.ts',
      // Hands that edit at a rate.
      'tests/support/pacer.ts',
      // A long run goes on for so long as it was told, from a seed that its title names.
      'tests/support/rounds.ts',
      // A visit by the crew of the fixture just now.
      'tests/support/store-fixture.ts',
      // Who hangs.
      'tests/support/until.ts',
    ]);
    expect(filesWith(/\bMath\.random\b/, tests)).toEqual([]);
  });

  it('no test has a limit of its own: there is one in the configuration, for what hangs', () => {
    const ownLimit =
      /\btimeout:|\bvi\.(?:waitFor|waitUntil)\b|^ {0,6}(?:\}, )?[\d_]{5,}(?: [+*] .*)?,?\n?\s*\);$/m;
    expect(filesWith(ownLimit, timeless)).toEqual([]);
    for (const text of [
      "it('a', () => {\n  }, 60_000);",
      'it(\n    60_000 + n * 5,\n  );',
      'wait({ timeout: 5 })',
    ])
      expect(text).toMatch(ownLimit);
    expect(codeOf(config)).toMatch(/testTimeout: HUNG_MS,\n\s*hookTimeout: HUNG_MS,/);
  });

  it('nothing is tried again until it passes, and nothing is left out', () => {
    const again = /\bretry:|\brepeats: \d+ \}, (?:async )?\(|\.(?:skip|skipIf|runIf|fails)\b(?= ?\(|\.each)/;
    // `this.fails` and the like are fields of test doubles, not calls.
    expect(filesWith(again, [...tests, config])).toEqual([]);
    expect(codeOf(config)).not.toMatch(/\b(?:retry|bail|allowOnly|passWithNoTests)\b/);
  });

  it('what is asked of a server goes out on a connection that nobody keeps', () => {
    const bare = tests.filter(({ path }) => /^tests\/(?:server|cluster|bench)\//.test(path));
    expect(filesWith(/(?<![.\w])fetch\(/, bare)).toEqual([]);
  });

  it('a test runs wholly on source, or wholly on what was built', () => {
    // vitest.config.ts gives tests of the server, the cluster and the page engine and server from dist.
    expect(codeOf(config)).toContain("const ON_DIST = ['tests/server', 'tests/cluster', 'tests/browser'];");
    const onSource = timeless.filter(({ path }) =>
      /^tests\/(?:engine|reference|convergence|web)\//.test(path),
    );
    expect(onSource.length).toBeGreaterThan(90);
    expect(filesWith(/\.\/dist\/|\/(?:child-server|test-server|browser-suite)\.ts'/, onSource)).toEqual([]);
  });

  it('what is forbidden here would be found', () => {
    const pauseOf = (ms: number): string => `await new Promise((resolve) => setTimeout(resolve, ${ms}));`;
    const file = (text: string, path = 'tests/engine/x.ts'): Source => ({ path, text, imports: [] });
    for (const [pattern, text] of [
      [TIMERS, pauseOf(100)],
      [TIMERS, "import { setTimeout as pause } from 'node:timers/promises';"],
      [TIMERS, 'Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 800);'],
      [TIMERS, "await mine.pressSequentially('Ada', { delay: 200 });"],
      [CLOCKS, 'const began = performance.now();'],
    ] as const) {
      expect(filesWith(pattern, [file(text)])).toEqual(['tests/engine/x.ts']);
      expect(filesWith(pattern, [file(`// ${text}`), file(`/* ${text} */`)])).toEqual([]);
    }
    // A bench may ask for the time; it may no more sleep than a test.
    const bench = file(pauseOf(800), 'tests/bench/x.ts');
    expect(isTool(bench)).toBe(true);
    expect(filesWith(TIMERS, [...tests, bench])).toEqual([...WITH_TIMERS, 'tests/bench/x.ts']);
  });
});

describe('the time of the server', () => {
  it('only its clock asks the machine for the time, and for timers', () => {
    expect(filesWith(new RegExp(`${TIMERS.source}|${CLOCKS.source}`), server)).toEqual(['server/clock.ts']);
  });

  it('only where a process or a thread begins is the clock the machine’s', () => {
    expect(filesWith(/\bmachineClock\b/, server)).toEqual([
      'server/clock.ts',
      'server/index.ts',
      'server/main.ts',
      'server/owner-link.ts',
      'server/store-command.ts',
      'server/store/sqlite-worker.ts',
    ]);
  });
});
