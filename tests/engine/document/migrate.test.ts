import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { Design, readDesign } from '../../../engine/document/index.ts';
import { type Migration, migrateDesign } from '../../../engine/document/migrate.ts';
import { formatBoard } from '../../../engine/index.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';

/** A document of a released version with what it must read as. Written once, never changed. */
interface Fixture {
  readonly update: string;
  readonly file: unknown;
  readonly rowPairIds: readonly string[];
  readonly stringPairIds: readonly string[];
}

for (const version of [1, 2])
  test(`[D4] a document of version ${version} loads and can be edited for ever`, () => {
    const path = new URL(`fixtures/design-v${version}.json`, import.meta.url);
    const fixture = JSON.parse(readFileSync(path, 'utf8')) as Fixture;
    const doc = new Y.Doc();
    Y.applyUpdate(doc, Buffer.from(fixture.update, 'base64'));
    // What the page reads before anybody migrated is the same.
    expect(formatBoard(readDesign(doc).board)).toEqual(fixture.file);
    expect(migrateDesign(doc, null)).toEqual({ ok: true, from: version, to: 2 });
    const { board, rowPairIds, stringPairIds, repairs } = readDesign(doc);
    expect([formatBoard(board), rowPairIds, stringPairIds, repairs]).toEqual([
      fixture.file,
      fixture.rowPairIds,
      fixture.stringPairIds,
      [],
    ]);
    const design = new Design(doc, { makerId: 'm', newId: countingIds('m') });
    runAll(design, { kind: 'insert-row-pairs', at: 1, count: 1 }, { kind: 'set-title', title: 'Edited' });
    expect(design.snapshot.board.pattern.rows).toBe(board.pattern.rows + 2);
  });

/** A document of version 1, written as that version wrote colourways. */
function firstVersion(): Y.Doc {
  const { doc } = openDesign({ ...sampleBoard(), colourways: [] });
  const ways = doc.getMap('colourways');
  doc.getMap('meta').set('version', 1);
  ways.set('["w0","w"]', { name: 'second', order: 1 });
  ways.set('["w0","w","g"]', { name: 'moss', hex: '#446633', order: 1 });
  ways.set('["w0","w","b"]', { name: 'sky', hex: '#88BBFF', order: 0 });
  ways.set('["w0","w","r"]', null);
  ways.set('["w0","first"]', { name: '', order: 0 });
  ways.set('["w0","gone"]', null);
  ways.set('["w9","w"]', { name: 'of another board', order: 0 });
  return doc;
}

test('[D4] [D26] colourways of version 1 read the same before and after the step, and a change of one field stays through it', () => {
  const doc = firstVersion();
  const before = readDesign(doc);
  expect([before.board.colourways, before.repairs]).toEqual([
    [
      { id: 'first', name: '', colours: [] },
      {
        id: 'w',
        name: 'second',
        colours: [
          { id: 'b', name: 'sky', hex: '#88bbff' },
          { id: 'g', name: 'moss', hex: '#446633' },
        ],
      },
    ],
    [],
  ]);
  const away = new Y.Doc();
  Y.applyUpdate(away, Y.encodeStateAsUpdate(doc));
  const design = new Design(away, { makerId: 'm', newId: countingIds('m') });
  runAll(design, {
    kind: 'put-colourway',
    colourway: {
      ...before.board.colourways[1]!,
      name: 'Ada’s',
      colours: [{ id: 'g', name: 'moss', hex: '#112233' }],
    },
  });
  // A page of version 1 must not go on writing where nobody reads.
  expect(away.getMap('meta').get('version')).toBe(2);
  const changed = readDesign(away).board.colourways;
  expect(migrateDesign(doc, null)).toEqual({ ok: true, from: 1, to: 2 });
  expect(readDesign(doc)).toEqual(before);
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(away));
  Y.applyUpdate(away, Y.encodeStateAsUpdate(doc));
  expect(readDesign(away)).toEqual(readDesign(doc));
  // The step wrote what stood there; of each field one of the two counts, the same for both.
  for (const { id, name } of readDesign(doc).board.colourways)
    expect([before.board.colourways, changed].flat().some((way) => way.id === id && way.name === name)).toBe(
      true,
    );
});

test('[D4] [D26] after the step nothing is read any more from where version 1 kept colourways', () => {
  const doc = firstVersion();
  const before = readDesign(doc);
  migrateDesign(doc, null);
  const ways = doc.getMap('colourways');
  for (const key of [
    '["w0","w"]',
    '["w0","w","g"]',
    '["w0","w","b"]',
    '["w0","w","r"]',
    '["w0","first"]',
    '["w0","gone"]',
  ])
    ways.set(key, { name: 'of a page of version 1', hex: '#010101', order: 7 });
  expect(readDesign(doc)).toEqual(before);
});

test('[D4] [D66] two pages that change one colourway of version 1 at once lose nothing, whether or not somebody takes the step', () => {
  for (const isStepTaken of [false, true]) {
    const doc = firstVersion();
    const pages = ['ada', 'bo'].map((makerId) => {
      const copy = new Y.Doc();
      Y.applyUpdate(copy, Y.encodeStateAsUpdate(doc));
      return new Design(copy, { makerId, newId: countingIds(makerId) });
    }) as [Design, Design];
    const [ada, bo] = pages;
    const w = ada.snapshot.board.colourways.find(({ id }) => id === 'w')!;
    runAll(ada, { kind: 'put-colourway', colourway: { ...w, maker: { id: 'p', name: 'Ada' } } });
    const colours = w.colours.map((colour) => (colour.id === 'g' ? { ...colour, hex: '#112233' } : colour));
    runAll(bo, { kind: 'put-colourway', colourway: { ...w, colours } });
    const all = [doc, ada.doc, bo.doc];
    if (isStepTaken) {
      // Somebody who has seen both.
      Y.applyUpdate(doc, Y.encodeStateAsUpdate(ada.doc));
      Y.applyUpdate(doc, Y.encodeStateAsUpdate(bo.doc));
      doc.getMap('meta').set('version', 1);
      expect(migrateDesign(doc, null)).toMatchObject({ ok: true, from: 1 });
    }
    for (const from of all) for (const to of all) Y.applyUpdate(to, Y.encodeStateAsUpdate(from));
    for (const one of all) {
      const { board, repairs } = readDesign(one);
      expect([board.colourways.find(({ id }) => id === 'w'), repairs]).toEqual([
        { ...w, maker: { id: 'p', name: 'Ada' }, colours },
        [],
      ]);
      expect(one.getMap('meta').get('version')).toBe(2);
    }
  }
});

const steps: readonly Migration[] = [
  { from: 1, writes: ({ meta }) => [{ do: 'set', map: meta, key: 'two', value: meta.get('w0.title') }] },
  { from: 2, writes: ({ meta }) => [{ do: 'set', map: meta, key: 'three', value: `${meta.get('two')}!` }] },
];

test('[D4] steps are taken one after the other, each seeing what the one before wrote', () => {
  const doc = firstVersion();
  const origins: unknown[] = [];
  doc.on('afterTransaction', (transaction: Y.Transaction) => origins.push(transaction.origin));
  expect(migrateDesign(doc, 'migration', steps, 3)).toEqual({ ok: true, from: 1, to: 3 });
  const meta = doc.getMap('meta');
  expect([meta.get('version'), meta.get('three'), origins]).toEqual([
    3,
    'Test input!',
    ['migration', 'migration'],
  ]);
  expect(migrateDesign(doc, 'again', steps, 3)).toEqual({ ok: true, from: 3, to: 3 });
  expect(origins.length).toBe(2);
});

test('[D4] two clients that migrate at once agree', () => {
  const doc = firstVersion();
  const other = new Y.Doc();
  Y.applyUpdate(other, Y.encodeStateAsUpdate(doc));
  for (const one of [doc, other]) migrateDesign(one, null, steps, 3);
  Y.applyUpdate(other, Y.encodeStateAsUpdate(doc));
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(other));
  expect(doc.getMap('meta').toJSON()).toEqual(other.getMap('meta').toJSON());
  expect(doc.getMap('meta').get('version')).toBe(3);
});

test('[D4] a newer document and a missing step are refused, and nothing is written', () => {
  const doc = firstVersion();
  const before = Y.encodeStateAsUpdate(doc);
  expect(migrateDesign(doc, null, steps.slice(1), 3)).toMatchObject({
    ok: false,
    error: { kind: 'no-migration', version: 1 },
  });
  expect(migrateDesign(doc, null, [steps[0]!], 3)).toMatchObject({
    ok: false,
    error: { kind: 'no-migration', version: 2 },
  });
  expect(Y.encodeStateAsUpdate(doc)).toEqual(before);
  doc.getMap('meta').set('version', 4);
  const newer = Y.encodeStateAsUpdate(doc);
  expect(migrateDesign(doc, null, steps, 3)).toMatchObject({
    ok: false,
    error: { kind: 'newer-version', version: 4 },
  });
  expect(Y.encodeStateAsUpdate(doc)).toEqual(newer);
  expect(migrateDesign(new Y.Doc(), null)).toEqual({ ok: true, from: 2, to: 2 });
});
