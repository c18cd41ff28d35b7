/**
 * What is exported is taken by name by another file of the product: an export that nobody takes is dead, or private. Tests and the
 * lists of an index do not count; what only tests take stands below, with the reason. Read by knip, from the entrances in `knip.json` on.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Design, readDesign } from '../../engine/document/index.ts';
import * as engine from '../../engine/index.ts';
import { filesBelow, ROOT, readSource } from './source-files.ts';

const CONFIG = join(ROOT, 'tests/architecture/knip.json');

/** Functions of the engine that other programs build on; they stay whether the page takes them or not. */
const PUBLIC = [
  'applyLeadIn',
  'applyStart',
  'beginBoard',
  'boardsFromDrawer',
  'choicesOf',
  'cropPattern',
  'cutList',
  'describeStep',
  'findPlace',
  'findStarts',
  'finishRows',
  'fitBar',
  'fitBoard',
  'fitGauge',
  'fitShape',
  'fitWish',
  'formatBoard',
  'formatWish',
  'frameFor',
  'groupColourways',
  'hangWish',
  'imageWish',
  'layLettering',
  'leadIn',
  'lessonBoards',
  'mend',
  'mendToWish',
  'mirrorPattern',
  'moreLike',
  'mountFrom',
  'nearSymmetries',
  'openWish',
  'parseBoard',
  'planMount',
  'readPhoto',
  'readWish',
  'repairSymmetry',
  'repeatCycle',
  'reversePattern',
  'shiftStart',
  'shiftWish',
  'solvePicture',
  'stillNeeded',
  'symmetry',
  'tallyOf',
  'tilePattern',
  'tryWish',
  'untie',
  'wantedCells',
  'weave',
  'wishFrom',
  'workOrder',
];
/** Where they stand, and the lists that hand them on. */
const FACE = /^engine\/.+: (\w+)$/;

/** What only tests take, as `file: name`; a file alone where nothing of it is taken. */
const ONLY_TESTS: readonly { readonly why: string; readonly what: readonly string[] }[] = [
  {
    why: 'held to the contract beside the real one, and taken in its place where a test is about something else',
    what: [
      'server/access/memory-access-store.ts',
      'server/relay/memory-relay.ts',
      'server/store/memory-store.ts',
    ],
  },
  { why: 'tests start whole servers by it, in their own process', what: ['server/index.ts'] },
  {
    why: 'pages read the fields of documents of version 1 as they are; the step to version 2 stays as long as a fixture holds one',
    what: ['engine/document/migrate.ts'],
  },
  {
    why: 'a table that tests hold against what is really written or said',
    what: [
      'engine/document/admission.ts: ADMISSION',
      'engine/document/problem-kinds.ts: PROBLEM_KINDS',
      'engine/document/problem-kinds.ts: ProblemKind',
      'engine/document/talk/entry.ts: PANEL_ENTRIES',
      'engine/colour/textures.ts: TEXTURES',
    ],
  },
  {
    why: 'a constant whose source, or whose limit, a test states',
    what: [
      'engine/colour/palette-check.ts: ALIKE_DIFFERENCE',
      'engine/colour/sight.ts: SIGHT_MATRICES',
      'engine/material/cut-list.ts: CUT_STEP_MM',
      'engine/material/fit-bar.ts: HARDWARE_SIZES',
      'engine/material/fit-bar.ts: RING_SIZES',
      'engine/material/gauge-doubt.ts: HAND_SHARE',
      'engine/material/gauge-model.ts: MODEL_SPREAD',
      'engine/material/gauge-model.ts: ROW_PER_WIDTH',
      'server/access/access-routes.ts: MAX_LINKS',
      'server/http/limit-requests.ts: REQUEST_LIMITS',
      'server/versions/recorder.ts: RECORDER_TIMES',
      'web/board/painted-rows.ts: TILE_PLACES',
      'web/board/painted-rows.ts: TILE_ROWS',
      'web/sync/full-pause.ts: FIRST_PAUSE_MS',
      'web/sync/full-pause.ts: LONGEST_PAUSE_MS',
      'web/sync/person.ts: FIRST_NAMES',
      'web/sync/who-is-who.ts: HEXES',
      'web/table/aid-where.ts: MOST_PLACES',
      'web/table/one-touch.ts: BOUNCE_MS',
      'web/table/one-touch.ts: REST_MS',
      'web/table/one-touch.ts: SWIPE_PX',
      'web/table/tie-clock.ts: MOST_MARKS',
      'web/writing/text-in-hand.ts: LONGEST_MS',
      'web/writing/text-in-hand.ts: PAUSE_MS',
    ],
  },
  {
    why: 'a step of the file that a law or a published value is about, and that shows in no result alone',
    what: [
      'engine/document/journal/take-back.ts: doAgain',
      'engine/finish/finish-rows.ts: withFinish',
      'engine/material/cord.ts: hitchLength',
      'engine/material/cord.ts: turnLength',
      'engine/material/uncertainty.ts: effectiveFreedom',
      'engine/material/uncertainty.ts: sourcesOf',
      'engine/mount/find-starts.ts: startReach',
      'engine/pattern/pattern.ts: knotAt',
      'engine/pattern/transforms.ts: coloursBelow',
      'engine/symmetry/frieze.ts: symmetriesOfRepeat',
      'engine/symmetry/frieze.ts: symmetriesOfRing',
      'engine/table/if-it-stays.ts: ifItStays',
      'engine/weave/repeat-cycle.ts: cycleOf',
      'server/backup.ts: RestoreStep',
      'server/versions/snapshot.ts: snapshotOf',
      'web/board/block-text.ts: readBlock',
      'web/board/held-knots.ts: besideSpot',
      'web/board/held-knots.ts: isSeen',
      'web/board/knot-choice.ts: floodFrom',
      'web/board/knot-choice.ts: knotShowing',
      'web/board/own-keys.ts: isSingle',
      'web/set/card.ts: shortMarks',
      'web/table/aid-pace.ts: paceLines',
      'web/table/aid-short.ts: leftNow',
      'web/table/aid-where.ts: sayPlace',
      'web/table/aid-where.ts: whereabouts',
      'web/table/code-drawing.ts: codePath',
      'web/table/drawn.ts: pointOf',
      'web/table/drawn.ts: spotOf',
      'web/table/feedback.ts: ownVoice',
      'web/table/hand-over.ts: isOwnMachine',
      'web/table/own-measure.ts: inMeasure',
      'web/table/say-group.ts: tiesFrom',
      'web/table/tie-drawing.ts: placesInSight',
      'web/talk/outbox.ts: Shelf',
      'web/worker/plan-shelf.ts: PlanShelf',
    ],
  },
];

interface Named {
  readonly name: string;
}
interface Issue {
  readonly file: string;
  readonly files: readonly Named[];
  readonly exports: readonly Named[];
  readonly types: readonly Named[];
}

/** Exports that no other file takes by name, and files that nobody enters, in the sources below a folder. */
function unwantedIn(folder: string): string[] {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [
      join(ROOT, 'node_modules/knip/bin/knip.js'),
      ...['--config', CONFIG, '--production', '--include', 'files,exports,types'],
      ...['--reporter', 'json', '--no-progress', '--no-config-hints'],
    ],
    { cwd: folder, encoding: 'utf8' },
  );
  if (status !== 0 && status !== 1) throw new Error(`knip ended with ${status}: ${stderr}`);
  const { issues } = JSON.parse(stdout) as { issues: readonly Issue[] };
  return issues
    .flatMap(({ file, files, exports, types }) => [
      ...files.map(({ name }) => name),
      ...[...exports, ...types].map(({ name }) => `${file}: ${name}`),
    ])
    .sort();
}

describe('exports', () => {
  const listed = ONLY_TESTS.flatMap(({ what }) => what).sort();

  it('are taken by name by another file of the product, or stand in the list of what only tests take', () => {
    const found = unwantedIn(ROOT).filter((one) => !PUBLIC.includes(FACE.exec(one)?.[1] ?? ''));
    expect(found).toEqual(listed);
  });

  it('that other programs build on are there', () => {
    const face: Readonly<Record<string, unknown>> = { ...engine };
    for (const name of PUBLIC) expect(face[name], name).toBeTypeOf('function');
    expect(Design).toBeTypeOf('function');
    expect(readDesign).toBeTypeOf('function');
  });

  it('that only tests take are taken by a test', () => {
    const tests = filesBelow('tests', ['.ts']).map(readSource);
    const untaken = listed.filter((one) => {
      const [path, name] = one.split(': ');
      // The step that reads documents of version 1 is taken by the file of the step, which tests take.
      if (name === 'oldFields') return false;
      const takers = tests.filter(({ imports }) => imports.some(({ file }) => file === path));
      return !takers.some(({ text }) => name === undefined || new RegExp(`\\b${name}\\b`).test(text));
    });
    expect(untaken).toEqual([]);
  });

  it('that nobody takes are found, of values, of types and of an index; so is a file that nobody enters', () => {
    const folder = mkdtempSync(join(tmpdir(), 'exports-'));
    const write = (path: string, text: string): void => {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), text);
    };
    try {
      write('package.json', '{ "name": "planted", "type": "module" }');
      write(
        'web/main.ts',
        "import { one } from './a/index.ts';\nconsole.log(one, (await import('./b.ts')).late);\n",
      );
      write('web/a/index.ts', "export { one, two } from './a.ts';\n");
      write(
        'web/a/a.ts',
        'export const one = 1;\nexport const two = 2;\nexport interface Three {}\nconsole.log(two);\n',
      );
      write('web/b.ts', 'export const late = 1;\n');
      write('web/c.ts', 'export const four = 4;\n');
      expect(unwantedIn(folder)).toEqual([
        'web/a/a.ts: Three',
        'web/a/a.ts: two',
        'web/a/index.ts: two',
        'web/c.ts',
      ]);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
