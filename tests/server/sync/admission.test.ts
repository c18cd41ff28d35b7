/** The table of what documents are made of, held against what is really written, both ways. */
import { copyFileSync, existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import {
  applyCommand,
  type BoardPart,
  becomeCommand,
  bringBack,
  CLOSE_CODES,
  type Command,
  compactDesign,
  compareDesigns,
  copyTalk,
  DOCUMENT_PARTS,
  Design,
  isAdmitted,
  type Pin,
  readKeyed,
  readTalk,
  setPart,
  setThread,
  Talk,
  type TalkCommand,
  writeBoard,
} from '../../../engine/document/index.ts';
import {
  keepDrawing,
  takeLead,
  writePlan,
  writeTeachersPlace,
} from '../../../engine/document/lesson/lesson.ts';
import { migrateDesign } from '../../../engine/document/migrate.ts';
import { packedKnotWrites } from '../../../engine/document/packed-knots.ts';
import { rootsOf } from '../../../engine/document/schema.ts';
import { applyWrites } from '../../../engine/document/writes.ts';
import { type Board, MAX_ROWS, MAX_STRINGS } from '../../../engine/index.ts';
import { BOARD_KINDS, partsOf, SqliteCore } from '../../../server/store/index.ts';
import { checkUpdate } from '../../../server/sync/check-update.ts';
import { firstOf } from '../../../server/sync/identity.ts';
import { checkCopy, readRows } from '../../../server/sync/index.ts';
import { Reach } from '../../../server/sync/reach.ts';
import { unpackState } from '../../../server/versions/snapshot.ts';
import { Run } from '../../convergence/makers.ts';
import { randomCommand } from '../../convergence/random-command.ts';
import { AdmissionRecord, tableKinds } from '../../support/admission-record.ts';
import { ask } from '../../support/ask.ts';
import { openDesign } from '../../support/open-design.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { until } from '../../support/until.ts';
import { closeAccessServer, Person, startAccessServer } from '../access-people.ts';
import { message } from '../raw-client.ts';
import { RecordingStore } from '../recording-store.ts';
import { temporaryFolder } from '../test-server.ts';

const record = new AdmissionRecord();

/** Updates as they were written, one building on another: each is let in, and so is all of it as one. */
function take(part: BoardPart, updates: readonly Uint8Array[]): void {
  record.note(part, updates);
  const reach = new Reach();
  for (const update of updates) {
    const check = checkUpdate(reach, firstOf(`b/${part}`), update);
    if (check.kind === 'empty') continue;
    if (check.kind !== 'fits') throw new Error(`${part}: ${JSON.stringify(check)}`);
    reach.note(check);
  }
  expect(checkCopy(Y.mergeUpdates([...updates]), part)).toMatchObject({ kind: 'fits' });
}

/** Everything a document sends from now on. */
function listen(doc: Y.Doc): Uint8Array[] {
  const updates: Uint8Array[] = [Y.encodeStateAsUpdate(doc)];
  doc.on('update', (update: Uint8Array) => updates.push(update));
  return updates;
}

/** The longest ids there can be: of this program's making, and of files, which take the most room in a key. */
let made = 0;
const longId = (): string => {
  made += 1;
  return String(made).padStart(40, 'x');
};
const fileId = (n: number): string =>
  n.toString(2).padStart(60, '0').replaceAll('0', '\\').replaceAll('1', '"');

const longBoard = (): Board => ({
  ...sampleBoard(),
  title: 't'.repeat(120),
  palette: [1, 2].map((n) => ({ id: fileId(n), name: 'n'.repeat(60), hex: '#112233' })),
  pattern: { ...sampleBoard().pattern, colours: Array.from({ length: 6 }, (_, i) => fileId(1 + (i % 2))) },
  piece: { notes: 'w'.repeat(4_000), repeats: 2 },
  gauge: { knottingCarrierCorrelation: 0.5 },
  colourways: [
    {
      id: fileId(1),
      name: 'n'.repeat(60),
      maker: { id: fileId(3), name: 'm'.repeat(60) },
      pieces: 7,
      colours: [{ id: fileId(2), name: 'n'.repeat(60), hex: '#445566' }],
    },
  ],
  supplies: {
    threads: [{ hex: '#112233', name: 'n'.repeat(60), skeinMm: 8_000, sameAs: `#445566.${'n'.repeat(60)}` }],
    parts: [{ id: fileId(1), kind: 'clasp', name: 'c'.repeat(60), count: 1 }],
  },
});

describe('what is written', () => {
  it('[Y50] by random commands of every kind, undo and redo, of several makers at once', () => {
    for (let seed = 1; seed <= 12; seed += 1) {
      const run = new Run(seed, { steps: 120 });
      run.work();
      take('design', run.sent);
      // What a maker holds who was away, with what an undo still needs, against what the server has by then.
      const half = run.sent.slice(0, run.sent.length >> 1);
      const server = new Y.Doc();
      for (const update of half) Y.applyUpdate(server, update);
      const reach = new Reach();
      const begun = checkCopy(Y.encodeStateAsUpdate(server), 'design');
      if (begun.kind !== 'fits') throw new Error(JSON.stringify(begun));
      reach.note(begun);
      for (const { design } of run.makers)
        for (const vector of [undefined, Y.encodeStateVector(server)]) {
          const whole = Y.encodeStateAsUpdate(design.doc, vector);
          expect(checkUpdate(reach, firstOf('b/design'), whole)).toMatchObject({
            kind: 'fits',
          });
        }
    }
  });

  it('[Y50] with the longest names, ids and notes', () => {
    const doc = new Y.Doc();
    const updates = listen(doc);
    writeBoard(doc, longBoard(), longId);
    const design = new Design(doc, { makerId: 'm', newId: longId, captureMs: 0 });
    const commands: readonly Command[] = [
      { kind: 'insert-row-pairs', at: 0, count: 2 },
      { kind: 'insert-string-pairs', at: 0, count: 1 },
      {
        kind: 'set-knots',
        knots: [
          { row: 0, k: 0, knot: 2 },
          { row: 5, k: 1, knot: 4 },
        ],
      },
      { kind: 'add-colour', name: 'n'.repeat(60), hex: '#aabbcc', id: fileId(4) },
      { kind: 'recolour-strings', strings: [0], colour: fileId(4) },
      { kind: 'remove-colour', id: fileId(4), replaceWith: fileId(1) },
      { kind: 'move-colour', id: fileId(1), to: 1 },
      { kind: 'set-piece', patch: { repeats: null, lengthMm: 80.5 } },
      { kind: 'set-gauge', patch: { knottingCarrierCorrelation: null } },
      setThread({ hex: '#112233', name: 'n'.repeat(60) }, { skeinMm: null }),
      setPart(fileId(1), { price: 1.5 }),
      { kind: 'set-ends', firstHidden: true },
      { kind: 'put-colourway', colourway: { id: fileId(6), name: '', colours: [] } },
      { kind: 'remove-colourway', id: fileId(1) },
    ];
    for (const command of commands) expect(design.run(command), command.kind).toEqual({ ok: true });
    while (design.undo());
    while (design.redo());
    const base = readKeyed(doc)!;
    const other = openDesign(longBoard());
    take('design', updates);
    const compact = compactDesign(doc);
    take('design', [Y.encodeStateAsUpdate(compact!)]);
    expect(base.rowPairIds[0]!.length).toBe(81);
    other.dispose();
  });

  it('[Y50] [D384] in a lesson, with the longest notes, ids, places and strokes', () => {
    const doc = new Y.Doc();
    const updates = listen(doc);
    const knot = 'band 9999999 9999999 999';
    const stop = { place: { stage: 'tie', knot }, note: 'n'.repeat(500), waits: true } as const;
    writePlan(doc, [
      { ...stop, id: 's'.repeat(24), minutes: 5 },
      { ...stop, id: 't'.repeat(24), minutes: null },
    ]);
    writeTeachersPlace(doc, stop.place);
    takeLead(doc, { page: 'p'.repeat(24), name: 'n'.repeat(60) });
    const stroke = Array.from({ length: 400 }, (_, i) => i + 0.25);
    keepDrawing(doc, { id: 'd'.repeat(24), stop: 's'.repeat(24), stroke });
    take('lesson', updates);
  });

  it('[Y50] by taking over changes, bringing back, and packing the knots of the largest board', () => {
    const random = seededRandom(7);
    const design = openDesign(sampleBoard(8, 10));
    const updates = listen(design.doc);
    for (let n = 0; n < 40; n += 1) {
      const toward = openDesign(sampleBoard(8, 10), 'other');
      Y.applyUpdate(toward.doc, Y.encodeStateAsUpdate(design.doc));
      const earlier = readKeyed(design.doc)!;
      for (let i = 0; i < 6; i += 1) toward.run(randomCommand(random, toward.snapshot));
      const { doc } = toward;
      design.run(applyCommand(compareDesigns(earlier, readKeyed(doc)!), readKeyed(doc)!));
      const now = readKeyed(design.doc)!;
      const back = bringBack(now, now, earlier);
      if (!back.ok) throw new Error(back.error.message);
      design.run(becomeCommand(back.value, n % 2 === 0 ? 0 : 50_000));
      if (n % 3 === 0) design.undo();
    }
    take('design', updates);

    const large = new Y.Doc();
    writeBoard(large, { ...sampleBoard(MAX_STRINGS, MAX_ROWS) }, longId);
    take('design', [Y.encodeStateAsUpdate(large)]);

    // Most of these pairs are gone and wait for an undo; their knots stay in a base that is packed anew.
    for (const [rows, strings] of [
      [10_000, 250],
      [249, 10_001],
      [10_001, 249],
    ] as const) {
      const small = openDesign(sampleBoard(4, 4));
      const { patternId } = readKeyed(small.doc)!;
      const { knots } = rootsOf(small.doc);
      const names = (count: number): string[] =>
        Array.from({ length: count }, (_, i) =>
          i < 2 ? `~${i}` : `~9${i}`.padEnd(40, 'x').replace('~', 'y'),
        );
      knots.set(patternId, {
        rows: names(rows),
        strings: names(strings),
        knots: new Uint8Array(rows * strings),
      });
      const writes = packedKnotWrites(knots, readKeyed(small.doc)!);
      if ('demand' in writes) throw new Error(`${writes.found} are too many`);
      // What is overwritten leaves nothing behind: it was not written by a command.
      small.doc.transact(() => applyWrites(writes));
      take('design', [Y.encodeStateAsUpdate(small.doc)]);
    }
  });

  it('[Y30] and a base that would name more pairs than can be read is refused, not written', () => {
    const design = openDesign(sampleBoard(4, 4));
    const { patternId } = readKeyed(design.doc)!;
    const gone = Array.from({ length: 10_001 }, (_, i) => `y${i}`);
    const { knots } = rootsOf(design.doc);
    knots.set(patternId, { rows: gone, strings: 2, knots: new Uint8Array(20_002) });
    const now = readKeyed(design.doc)!;
    const earlier = readKeyed(openDesign(sampleBoard(4, 4)).doc)!;
    const back = bringBack(now, now, { ...earlier, patternId });
    expect(packedKnotWrites(knots, now)).toEqual({
      demand: { be: 'most-rows', most: 20_002 },
      found: 20_006,
    });
    if (back.ok)
      expect(design.run(becomeCommand(back.value, 0))).toMatchObject({ ok: false, error: { kind: 'limit' } });
  });

  it('[Y50] by every version of the document so far, and by bringing it to the present one', () => {
    const folder = 'tests/engine/document/fixtures';
    const files = readdirSync(folder).filter((name) => name.startsWith('design-v'));
    expect(files.length).toBeGreaterThan(1);
    for (const file of files) {
      const { update } = JSON.parse(readFileSync(join(folder, file), 'utf8')) as { update: string };
      const doc = new Y.Doc();
      Y.applyUpdate(doc, Buffer.from(update, 'base64'));
      const updates = listen(doc);
      migrateDesign(doc, 'test');
      take('design', updates);
    }
    // What version 1 wrote of a colourway, at its longest.
    const old = openDesign(longBoard());
    const updates = listen(old.doc);
    const name = 'n'.repeat(60);
    old.doc.getMap('colourways').set('["w0","k"]', { name, order: 0 });
    old.doc.getMap('colourways').set('["w0","k","r"]', { name, hex: '#cc2222', order: 0 });
    take('design', updates);
  });

  it('[Y50] by the talk, about everything that can be talked about, and by a copy of it', () => {
    const doc = new Y.Doc();
    const updates = listen(doc);
    const person = { id: 'p'.repeat(81), name: 'n'.repeat(60), hex: '#112233' };
    const talk = new Talk(doc, { person, newId: longId, now: () => 1_700_000_000_000 });
    const pair = 'a'.repeat(81);
    const knot = { rowPair: pair, stringPair: pair, half: 'inside' } as const;
    const string = { stringPair: pair, side: 1 } as const;
    const pins: readonly Pin[] = [
      { kind: 'board' },
      { kind: 'knot', address: knot },
      { kind: 'row', address: { rowPair: pair, half: 'seam' } },
      { kind: 'string', address: string },
      { kind: 'panel', entry: 'e'.repeat(60) },
      { kind: 'panel', entry: 'cutting', of: { on: 'string', address: string } },
      { kind: 'panel', entry: 'cutting', of: { on: 'strings', left: string, right: string } },
      { kind: 'panel', entry: 'work', of: { on: 'knot', address: knot } },
      { kind: 'panel', entry: 'colours', of: { on: 'colour', id: pair } },
      { kind: 'panel', entry: 'gauge', of: { on: 'value', name: 'knottingCarrierCorrelation' } },
    ];
    const text = 's'.repeat(4_000);
    const mentions = Array.from({ length: 20 }, (_, i) => String(i).padStart(81, 'q'));
    const run = (command: TalkCommand): string => {
      const done = talk.run(command);
      if (!done.ok) throw new Error(done.error.message);
      return done.thread;
    };
    for (const pin of pins) {
      const thread = run({ kind: 'open-thread', pin, text, mentions });
      run({ kind: 'answer', thread, text });
      const [first, second] = readTalk(doc).threads.find(({ id }) => id === thread)!.remarks;
      run({ kind: 'change-remark', thread, remark: first!.id, text });
      run({ kind: 'take-back-remark', thread, remark: second!.id });
      run({ kind: 'set-done', thread, done: true });
      if (pin.kind === 'board') run({ kind: 'set-done', thread, done: false });
    }
    take('talk', updates);
    take('talk', [Y.encodeStateAsUpdate(copyTalk(readTalk(doc), (id) => id))]);
  });
});

describe('what a server writes', () => {
  it('[V250] in all it does: edits, talk, imports, branches, archives, renewal, bringing over, compaction', async () => {
    const store = new RecordingStore();
    const server = await startAccessServer({ store, env: { RENEW_BYTES: '2000', ASIDE_MS: '1' } });
    const owner = new Person(server);
    const { id: board } = await owner.makeBoard();
    const path = `/api/boards/${board}`;

    const page = await owner.socket(board, 'design').join();
    page.doc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin !== 'server') page.send(message(0, 2, update));
    });
    const design = new Design(page.doc, { makerId: 'm', newId: countingIds('m'), captureMs: 0 });
    const random = seededRandom(3);
    for (let n = 0; n < 400; n += 1) {
      if (n % 7 === 6) design.undo();
      else if (n % 31 === 30) design.redo();
      else {
        const command = randomCommand(random, design.snapshot);
        if (command.kind !== 'load-board') design.run(command);
      }
      page.mark(n + 1);
      await page.savedMark(n + 1);
    }
    const by = { id: await owner.idOn(board), name: 'Kai', hex: '#112233' };
    const say = async (command: object, n: number): Promise<void> => {
      const body = { id: String(n).padStart(16, '0'), by, command };
      expect((await owner.ask('POST', `${path}/talk`, body)).status).toBeLessThan(300);
    };
    await say({ kind: 'open-thread', pin: { kind: 'board' }, text: 'longer?', mentions: ['x'] }, 1);
    const file = (await owner.ask('GET', `${path}/file`)).json;
    expect((await owner.ask('PUT', `${path}/file`, file)).status).toBeLessThan(300);
    const branch = (await owner.ask('POST', `${path}/proposals`, { title: 'warmer', name: 'Kai' })).json
      .id as string;
    const onBranch = await owner.socket(branch, 'design').join();
    onBranch.edit((doc) => {
      const there = new Design(doc, { makerId: 'm', newId: countingIds('b') });
      there.run({ kind: 'set-title', title: 'a branch' });
      there.dispose();
    });
    onBranch.mark(1);
    await onBranch.savedMark(1);
    const archive = await ask(`${server.http}${path}/archive`, { headers: { cookie: owner.cookie } });
    const loaded = await ask(`${server.http}/api/archives`, {
      method: 'POST',
      headers: { cookie: owner.cookie },
      body: new Uint8Array(await archive.arrayBuffer()),
    });
    expect(loaded.status).toBe(201);

    // Worn and left, the design is renewed; a copy of before comes back with an edit.
    const copy = Y.encodeStateAsUpdate(page.doc);
    page.close();
    await until('the board is renewed', () => server.metrics.valueOf('larkboard_renewals_total') === 1);
    await until('nobody is in', () => !server.rooms.isOpen(board, 'design'));
    const late = new Y.Doc();
    Y.applyUpdate(late, copy);
    const away = new Design(late, { makerId: 'l', newId: countingIds('l'), captureMs: 0 });
    expect(away.run({ kind: 'set-title', title: 'made while away' })).toEqual({ ok: true });
    const back = owner.socket(board, 'design');
    back.answers = false;
    await back.opened;
    back.send(message(0, 1, Y.encodeStateAsUpdate(late)));
    expect(await back.closed).toBe(CLOSE_CODES.outdated);

    expect(server.metrics.valueOf('larkboard_compactions_total')).toBeGreaterThan(0);
    for (const { id, kind } of await store.records(board, null)) {
      const { bytes } = (await store.record(board, kind, id))!;
      const state = kind === 'version' ? await unpackState(bytes) : bytes;
      if (state!.length > 0)
        expect(checkCopy(state!, 'design'), `${kind} ${id}`).toMatchObject({ kind: 'fits' });
    }
    await closeAccessServer(server);
    const parts = new Set<string>();
    for (const [key, { part, updates }] of store.written) {
      record.note(part, updates);
      const name = key.slice(0, key.lastIndexOf('~'));
      const rows = updates.map((bytes, seq) => ({ seq, bytes }));
      expect(readRows(rows, name).fault, key).toBeNull();
      parts.add(key.slice(key.indexOf('/')));
    }
    expect([...parts].sort()).toEqual(['/design~1', '/design~2', '/talk~1']);
  });

  /** Data folders that earlier releases left. */
  const earlier = existsSync('tests/fixtures')
    ? readdirSync('tests/fixtures').filter((name) => existsSync(join('tests/fixtures', name, 'larkboard.db')))
    : [];
  it(`[V250] in the stores of earlier releases (${earlier.length} kept)`, () => {
    for (const folder of earlier) {
      // Opening a file may write to it.
      const copy = temporaryFolder();
      copyFileSync(join('tests/fixtures', folder, 'larkboard.db'), join(copy.path, 'larkboard.db'));
      const core = new SqliteCore(join(copy.path, 'larkboard.db'));
      for (const kind of BOARD_KINDS)
        for (const { id } of core.boardsOfKind(kind))
          for (const part of partsOf(kind)) {
            const rows = core.load({ board: id, part });
            if (rows.length === 0) continue;
            expect(readRows(rows, `${id}/${part}`).fault, `${folder}: ${id}/${part}`).toBeNull();
            record.note(
              part,
              rows.map(({ bytes }) => bytes),
            );
          }
      core.close();
      copy.remove();
    }
  });
});

describe('the table', () => {
  it.each(DOCUMENT_PARTS)(
    '[Y51] of the %s names what was written, with the greatest lengths, and nothing else',
    (part) => {
      const table = tableKinds(part);
      const written = record.kinds(part);
      // Of a name there is no greatest length: the server holds it against the one that it must be.
      for (const kinds of [table, written])
        for (const key of [...kinds.keys()]) if (key.startsWith('identity')) kinds.delete(key);
      expect(Object.fromEntries([...written].sort())).toEqual(Object.fromEntries([...table].sort()));
    },
  );

  it('[Y52] looks no deeper into a value than the table goes, and not at what it inherits', () => {
    let deep: unknown = 1;
    for (let i = 0; i < 100_000; i += 1) deep = [deep];
    const rules = [{ kind: 'list', most: 2, of: [{ kind: 'number' }] }] as const;
    expect(isAdmitted(rules, [1, 2])).toBe(true);
    expect(isAdmitted(rules, [1, 2, 3])).toBe(false);
    expect(isAdmitted(rules, deep)).toBe(false);
    const fields = [{ kind: 'fields', of: { x: [{ kind: 'number' }] } }] as const;
    expect(isAdmitted(fields, { x: 1 })).toBe(true);
    expect(isAdmitted(fields, {})).toBe(true);
    expect(isAdmitted(fields, { x: 1, y: 1 })).toBe(false);
    expect(isAdmitted(fields, Object.create({ x: deep }))).toBe(false);
    expect(isAdmitted(fields, { toString: 1 })).toBe(false);
  });
});
