/**
 * Tests of the engine, the server and the page stand in the tree of their source and are named after the file they test, or after
 * the folder for what its index gives. What many files do together is listed here by what it shows; the list is exact.
 */
import { posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesBelow } from './source-files.ts';

const TREES = ['engine', 'server', 'web'];

const BEHAVIOURS: Readonly<Record<string, readonly string[]>> = {
  engine: ['demo-boards', 'maker-trial'],
  'engine/document': ['address', 'gauge-together', 'lead-in', 'merging'],
  'engine/material': ['length-doubt'],
  'engine/work': ['rows-first'],
  server: ['ask', 'clock-steps', 'day', 'drain', 'kill', 'limits', 'restored', 'school', 'start-flags'],
  'server/access': ['hostile-access', 'quotas', 'roles', 'sessions'],
  'server/archive': ['archive-limits', 'archive-proposals'],
  'server/boards': ['large-reads'],
  'server/http': ['hostile-routes', 'request-bodies'],
  'server/journal': ['past-fixture'],
  'server/lessons': ['door', 'past', 'rights', 'roster'],
  'server/store': ['damaged-log', 'database-errors', 'faults', 'fixture-store'],
  'server/sync': [
    'admission',
    'aside-line',
    'at-the-limit',
    'catch-up',
    'costly',
    'cut-off',
    'deleted-meanwhile',
    'full-line',
    'fuzz',
    'fuzz-copies',
    'hand-over',
    'hand-over-nodes',
    'held-bytes',
    'hostile',
    'hostile-trees',
    'newcomer',
    'questions',
    'renewal',
    'renewal-line',
    'renewal-nodes',
    'renewal-question',
    'room-faults',
    'room-moments',
    'room-trace',
    'silence',
    'who-is-who',
  ],
  'server/sync/renewal': ['copy-faults'],
  'server/versions': ['lost-work'],
  'web/board': ['board-memory'],
  'web/text': ['words'],
};
const behaviours = Object.entries(BEHAVIOURS).flatMap(([folder, names]) =>
  names.map((name) => `${folder}/${name}`),
);

const product = TREES.flatMap((tree) => filesBelow(tree, ['.ts']));
/** What a test may be named after, without endings. */
const subjects = new Set([
  ...product.map((path) => path.replace(/\.ts$/, '')),
  ...product.map((path) => posix.dirname(path)).map((folder) => `${folder}/${posix.basename(folder)}`),
]);

/** What a test file is named after: `engine/weave/weave` for `tests/engine/weave/weave.property.test.ts`. */
const subjectOf = (path: string): string =>
  path.replace(/^tests\//, '').replace(/(?:\.property)?\.test\.ts$/, '');

const tested = TREES.flatMap((tree) => filesBelow(`tests/${tree}`, ['.test.ts'])).map(subjectOf);

describe('where a test is found', () => {
  it('every test is named after a file of its folder, or is one of the behaviours', () => {
    expect(tested.length).toBeGreaterThan(120);
    expect(tested.filter((name) => !subjects.has(name) && !behaviours.includes(name))).toEqual([]);
  });

  it('every behaviour has a test, and is not the name of a file', () => {
    expect(behaviours.filter((name) => !tested.includes(name) || subjects.has(name))).toEqual([]);
  });

  it('a test in another folder than its file would be found', () => {
    const named = (path: string): boolean => subjects.has(subjectOf(path));
    expect(named('tests/engine/weave/weave.property.test.ts')).toBe(true);
    expect(named('tests/engine/pattern/weave.test.ts')).toBe(false);
    expect(named('tests/engine/weave.test.ts')).toBe(false);
  });
});
