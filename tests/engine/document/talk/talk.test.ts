import fc from 'fast-check';
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import {
  addressOfEntry,
  type EntryPlace,
  type Pin,
  placeOfPin,
  readTalk,
  readTalkSend,
  remarkIdOf,
  type Speaker,
  Talk,
  type TalkCommand,
} from '../../../../engine/document/index.ts';
import { readPin } from '../../../../engine/document/talk/pin.ts';
import { numberedDoc, openDesign, runAll } from '../../../support/open-design.ts';
import { countingIds, sampleBoard } from '../../../support/sample-board.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

const person = (id: string): Speaker => ({ id, name: id.toUpperCase(), hex: '#336699' });

/** A talk for one person; the clock gives the numbers in turn, then stands still. */
function openTalk(id: string, doc: Y.Doc = numberedDoc(), clock: readonly number[] = [1]): Talk {
  let tick = 0;
  return new Talk(doc, {
    person: person(id),
    newId: countingIds(`${id}-`),
    now: () => clock[Math.min(tick++, clock.length - 1)]!,
  });
}
function sync(...docs: readonly Y.Doc[]): void {
  const updates = docs.map((doc) => Y.encodeStateAsUpdate(doc));
  for (const doc of docs) for (const update of updates) Y.applyUpdate(doc, update);
}
const textsOf = ({ snapshot }: Talk): unknown =>
  snapshot.threads.map(({ remarks }) => remarks.map(({ text }) => text));
const board: Pin = { kind: 'board' };

test('[K10] [K11] a thread is opened, answered in order and read whole', () => {
  const mara = openTalk('mara', numberedDoc(), [1_000]);
  const opened = mara.run({ kind: 'open-thread', pin: board, text: 'Too wide?', mentions: ['tove', 'tove'] });
  expect(opened).toEqual({ ok: true, thread: 'mara-0' });
  // This clock is far behind, and the answer still stands after what it answers.
  const tove = openTalk('tove', mara.doc, [5]);
  tove.run({ kind: 'answer', thread: 'mara-0', text: 'A little.' });
  mara.run({ kind: 'answer', thread: 'mara-0', text: 'Then fewer strings.' });
  mara.run({ kind: 'open-thread', pin: { kind: 'panel', entry: 'cut-list' }, text: 'Second' });
  expect(mara.snapshot.threads[0]).toEqual({
    id: 'mara-0',
    pin: board,
    done: null,
    remarks: [
      { id: 'mara-1', by: person('mara'), at: 1_000, text: 'Too wide?', mentions: ['tove'] },
      { id: 'tove-0', by: person('tove'), at: 5, text: 'A little.', mentions: [] },
      { id: 'mara-2', by: person('mara'), at: 1_000, text: 'Then fewer strings.', mentions: [] },
    ],
  });
  expect(textsOf(tove)).toEqual([['Too wide?', 'A little.', 'Then fewer strings.'], ['Second']]);
});

test('[K5] [K12] people change and take back their own remarks only', () => {
  const mara = openTalk('mara');
  mara.run({ kind: 'open-thread', pin: board, text: 'Frist' });
  const tove = openTalk('tove', mara.doc);
  const target = { thread: 'mara-0', remark: 'mara-1' } as const;
  for (const command of [
    { kind: 'change-remark', ...target, text: 'Mine now' },
    { kind: 'take-back-remark', ...target },
  ] as const)
    expect(tove.run(command)).toMatchObject({ ok: false, error: { kind: 'not-yours', path: 'remark' } });
  mara.run({ kind: 'change-remark', ...target, text: 'First', mentions: ['tove'] });
  expect(mara.snapshot.threads[0]!.remarks[0]).toMatchObject({ text: 'First', mentions: ['tove'] });
  mara.run({ kind: 'take-back-remark', ...target });
  expect(tove.snapshot.threads[0]!.remarks).toEqual([
    { id: 'mara-1', by: person('mara'), at: 1, text: null, mentions: [] },
  ]);
});

test('[K13] a thread is done, by whom and when, and open again', () => {
  const mara = openTalk('mara', numberedDoc(), [10, 20]);
  mara.run({ kind: 'open-thread', pin: board, text: 'Check' });
  mara.run({ kind: 'set-done', thread: 'mara-0', done: true });
  expect(mara.snapshot.threads[0]!.done).toEqual({ by: person('mara'), at: 20 });
  mara.run({ kind: 'set-done', thread: 'mara-0', done: false });
  expect(mara.snapshot.threads[0]!.done).toBeNull();
});

test('[K14] a refused command writes nothing and names the field', () => {
  const mara = openTalk('mara');
  mara.run({ kind: 'open-thread', pin: board, text: 'Here' });
  const before = Y.encodeStateAsUpdate(mara.doc);
  const bad: [TalkCommand, string, string][] = [
    [{ kind: 'open-thread', pin: { kind: 'knot' } as never, text: 'x' }, 'unknown-pin', 'pin'],
    [{ kind: 'open-thread', pin: board, text: ' ' }, 'out-of-range', 'text'],
    [{ kind: 'open-thread', pin: board, text: 'x'.repeat(4_001) }, 'out-of-range', 'text'],
    [{ kind: 'answer', thread: 'none', text: 'x' }, 'unknown-thread', 'thread'],
    [{ kind: 'answer', thread: 'mara-0', text: '' }, 'out-of-range', 'text'],
    [{ kind: 'answer', thread: 'mara-0', text: 'x', mentions: Array(21).fill('a') }, 'limit', 'mentions'],
    [{ kind: 'change-remark', thread: 'mara-0', remark: 'none', text: 'x' }, 'unknown-remark', 'remark'],
    [{ kind: 'set-done', thread: 'none', done: true }, 'unknown-thread', 'thread'],
  ];
  for (const [command, kind, path] of bad)
    expect([command, mara.run(command)]).toMatchObject([command, { ok: false, error: { kind, path } }]);
  expect(Y.encodeStateAsUpdate(mara.doc)).toEqual(before);
});

test('[K1] a talk of a later version is neither read nor written', () => {
  const mara = openTalk('mara');
  mara.run({ kind: 'open-thread', pin: board, text: 'Here' });
  mara.doc.getMap('meta').set('version', 2);
  expect(mara.snapshot).toEqual({ threads: [], isNewer: true });
  expect(mara.run({ kind: 'open-thread', pin: board, text: 'x' })).toMatchObject({
    error: { kind: 'newer-version' },
  });
});

test('[K20] a pin follows what it is pinned to, to nowhere and back', () => {
  const design = openDesign(sampleBoard(6, 4));
  const pins: Pin[] = [
    { kind: 'knot', address: design.addressOf(2, 1)! },
    { kind: 'row', address: design.rowAddressOf(3)! },
    { kind: 'string', address: design.stringAddressOf(3)! },
    { kind: 'panel', entry: 'mount' },
    board,
  ];
  const talk = openTalk('mara');
  for (const pin of pins) talk.run({ kind: 'open-thread', pin, text: 'Here' });
  const places = (): unknown[] =>
    talk.snapshot.threads.map(({ pin }) => {
      const found = placeOfPin(design, pin);
      return 'place' in found ? found.place : found.kind;
    });
  expect(places()).toEqual([{ row: 2, k: 1 }, 3, 3, 'panel', 'board']);
  runAll(
    design,
    { kind: 'insert-row-pairs', at: 0, count: 1 },
    { kind: 'insert-string-pairs', at: 0, count: 1 },
  );
  expect(places()).toEqual([{ row: 4, k: 2 }, 5, 5, 'panel', 'board']);
  runAll(
    design,
    { kind: 'delete-row-pairs', from: 2, count: 1 },
    { kind: 'delete-string-pairs', from: 2, count: 1 },
  );
  expect(places()).toEqual([null, null, null, 'panel', 'board']);
  design.undo();
  design.undo();
  expect(places()).toEqual([{ row: 4, k: 2 }, 5, 5, 'panel', 'board']);
});

test('[Y20] [Y22] what is said about an entry stays with it, through insertions and deletions', () => {
  const design = openDesign(sampleBoard(6, 4));
  const colour = design.snapshot.board.palette[0]!.id;
  const places: [string, EntryPlace][] = [
    ['cutting', { on: 'strings', left: 0, right: 5 }],
    ['mounting', { on: 'string', string: 3 }],
    ['work', { on: 'knot', row: 2, k: 1 }],
    ['symmetry', { on: 'knot', row: 3, k: 0 }],
    ['mounting', { on: 'colour', id: colour }],
    ['piece', { on: 'value', name: 'tailMm' }],
    ['gauge', { on: 'value', name: 'bar' }],
  ];
  const pins = places.map(([entry, at]): Pin => ({ kind: 'panel', entry, of: addressOfEntry(design, at)! }));
  const talk = openTalk('mara');
  for (const pin of pins) expect(talk.run({ kind: 'open-thread', pin, text: 'Here' }).ok).toBe(true);
  expect(talk.snapshot.threads.map(({ pin }) => pin)).toEqual(pins);
  const now = (): unknown[] =>
    talk.snapshot.threads.map(({ pin }) => {
      const found = placeOfPin(design, pin);
      return found.kind === 'entry' ? found.place : 'no entry';
    });
  expect(now()).toEqual(places.map(([, at]) => at));
  runAll(
    design,
    { kind: 'insert-row-pairs', at: 0, count: 1 },
    { kind: 'insert-string-pairs', at: 1, count: 1 },
  );
  expect(now()).toEqual([
    { on: 'strings', left: 0, right: 7 },
    { on: 'string', string: 5 },
    { on: 'knot', row: 4, k: 2 },
    { on: 'knot', row: 5, k: 0 },
    ...places.slice(4).map(([, at]) => at),
  ]);
  // Its right end, its place, and its row go.
  runAll(
    design,
    { kind: 'delete-string-pairs', from: 2, count: 2 },
    { kind: 'delete-row-pairs', from: 2, count: 1 },
    { kind: 'add-colour', id: 'other', name: 'Other', hex: '#123456' },
    { kind: 'remove-colour', id: colour, replaceWith: 'other' },
  );
  expect(now()).toEqual([null, null, null, null, null, ...places.slice(5).map(([, at]) => at)]);
  for (let i = 0; i < 4; i++) design.undo();
  expect(now().slice(0, 2)).toEqual([
    { on: 'strings', left: 0, right: 7 },
    { on: 'string', string: 5 },
  ]);
});

test('[Y21] an entry that is unknown, or none of its panel, cannot be talked about; stored, its panel is read', () => {
  const design = openDesign(sampleBoard(6, 4));
  const knot = addressOfEntry(design, { on: 'knot', row: 0, k: 0 });
  const string = addressOfEntry(design, { on: 'string', string: 0 });
  const bad: [string, unknown][] = [
    ['cutting', knot],
    ['work', string],
    ['notes', string],
    ['constructor', string],
    ['cutting', { ...string, more: 1 }],
    ['cutting', { on: 'strings', left: { stringPair: 'a', side: 0 } }],
    ['cutting', { on: 'string', address: { stringPair: 'a', side: 2 } }],
    ['mounting', { on: 'colour', id: '' }],
    ['mounting', { on: 'colour', id: 'x'.repeat(82) }],
    ['piece', { on: 'value', name: 'notes' }],
    ['gauge', { on: 'value', name: 'tailMm' }],
    ['piece', { on: 'toString' }],
    ['piece', null],
    ['piece', 'tailMm'],
  ];
  const mara = openTalk('mara');
  const by = person('mara');
  const id = 'abcdefghijklmno_';
  for (const [entry, of] of bad) {
    const pin = { kind: 'panel', entry, of } as Pin;
    const command = { kind: 'open-thread', pin, text: 'x' } as const;
    expect([entry, of, mara.run(command)]).toMatchObject([entry, of, { error: { kind: 'unknown-pin' } }]);
    expect([entry, of, readTalkSend({ id, by, command })]).toMatchObject([
      entry,
      of,
      { ok: false, error: { kind: 'unknown-pin', path: 'command.pin' } },
    ]);
    expect(readPin(pin)).toEqual({ kind: 'panel', entry });
  }
  const besides = { kind: 'panel', entry: 'piece', also: 1 };
  expect(readTalkSend({ id, by, command: { kind: 'open-thread', pin: besides, text: 'x' } })).toMatchObject({
    error: { kind: 'unknown-field', path: 'command.pin.also' },
  });
});

test('[K1] [K2] [K3] [K4] whatever peers write is read alike or left out', () => {
  const stamp = { by: person('eve'), at: 5, order: 1 };
  const junk = fc.oneof(
    fc.constantFrom<unknown>(
      null,
      undefined,
      0,
      'x',
      [],
      {},
      true,
      Number.NaN,
      stamp,
      { ...stamp, at: -1 },
      { ...stamp, by: 5 },
    ),
    fc.constantFrom<unknown>(
      { pin: board, order: 2 },
      { pin: { kind: 'moon' } },
      { pin: { kind: 'row', address: 3 } },
    ),
    fc.constantFrom<unknown>(
      { text: 'hi', mentions: ['a', 5, 'a'] },
      { text: 'y'.repeat(5_000) },
      { text: 5 },
      { text: 'a\ud800' },
    ),
  );
  const key = fc.constantFrom(
    'a',
    'b',
    'a:done',
    'a:r',
    'a:r:says',
    'a:q',
    'a:q:says',
    'b:r',
    'b:r:says',
    '',
    ':',
    'a:b:c:d',
    'a b',
    'b:says',
    'b:done:says',
  );
  const write = fc.tuple(fc.constantFrom('threads', 'remarks', 'meta'), key, junk, fc.boolean());
  let shown = 0;
  fc.assert(
    fc.property(fc.array(write, { minLength: 1, maxLength: 20 }), (writes) => {
      const mara = openTalk('mara');
      mara.doc.getMap('threads').set('a', { pin: board, order: 1 });
      mara.doc.getMap('remarks').set('a:r', stamp);
      mara.doc.getMap('remarks').set('a:r:says', { text: 'hi', mentions: [] });
      for (const [root, at, value, isNested] of writes)
        mara.doc.getMap(root).set(at, isNested && at === 'b' ? new Y.Map() : value);
      const other = new Y.Doc();
      Y.applyUpdate(other, Y.encodeStateAsUpdate(mara.doc));
      expect(mara.snapshot).toEqual(readTalk(other));
      for (const { remarks } of mara.snapshot.threads) {
        shown++;
        expect(remarks.length).toBeGreaterThan(0);
        for (const { text, mentions } of remarks) {
          expect(text === null || text.length <= 4_000).toBe(true);
          expect(mentions.every((id) => typeof id === 'string')).toBe(true);
        }
      }
      expect(mara.run({ kind: 'open-thread', pin: board, text: 'Still here' }).ok).toBe(
        !mara.snapshot.isNewer,
      );
    }),
    { seed: 20264, numRuns: 400 },
  );
  expect(shown).toBeGreaterThan(50);
});

test('[K21] people who talk at once, in any order of delivery, read the same talk and lose no remark', () => {
  for (let seed = 1; seed <= 200; seed++) {
    const random = seededRandom(seed);
    const talks = ['a', 'b', 'c', 'd', 'e'].map((id) => openTalk(id, numberedDoc(), [random.below(1_000)]));
    const said = new Set<string>();
    const sent: Uint8Array[] = [];
    for (const { doc } of talks)
      doc.on('update', (update: Uint8Array, origin: unknown) => {
        if (origin !== 'remote') sent.push(update);
      });
    for (let step = 0; step < 30; step++) {
      const talk = random.pick(talks);
      const threads = talk.snapshot.threads;
      const text = `${seed} ${step}`;
      if (random.chance(0.4))
        Y.applyUpdate(
          talk.doc,
          random.pick(sent.length > 0 ? sent : [Y.encodeStateAsUpdate(talk.doc)]),
          'remote',
        );
      else if (threads.length === 0 || random.chance(0.2))
        said.add(talk.run({ kind: 'open-thread', pin: board, text }).ok ? text : '');
      else if (random.chance(0.8)) {
        const result = talk.run({ kind: 'answer', thread: random.pick(threads).id, text });
        expect(result.ok).toBe(true);
        said.add(text);
      } else talk.run({ kind: 'set-done', thread: random.pick(threads).id, done: random.chance(0.5) });
    }
    sync(...talks.map(({ doc }) => doc));
    const [first] = talks;
    for (const talk of talks) expect([seed, talk.snapshot]).toEqual([seed, first!.snapshot]);
    const heard = first!.snapshot.threads.flatMap(({ remarks }) => remarks.map(({ text }) => text!));
    expect([seed, heard.sort()]).toEqual([seed, [...said].sort()]);
  }
});

test('[K22] what is sent is read as it is, and ids of different people never meet', () => {
  const id = 'abcdefghijklmno_';
  const sent = {
    id,
    by: person('mara'),
    command: { kind: 'answer', thread: 't', text: 'Yes', mentions: ['tove'] },
  };
  expect(readTalkSend(JSON.parse(JSON.stringify(sent)))).toEqual({ ok: true, value: sent });
  expect(readTalkSend({ ...sent, by: { ...person('mara'), id: 'a b' } })).toMatchObject({
    ok: false,
    error: { path: 'by' },
  });
  expect(remarkIdOf('mara', id)).not.toBe(remarkIdOf('tove', id));
  expect(remarkIdOf('x'.repeat(22), id)).toMatch(/^[\w-]{39}$/);
  expect(() => remarkIdOf('a:b', id)).toThrow(RangeError);
  fc.assert(
    fc.property(fc.jsonValue(), fc.jsonValue(), (by, command) => {
      const read = readTalkSend({ id, by, command });
      expect(read.ok || read.error.message.length > 0).toBe(true);
    }),
    { seed: 20265 },
  );
});
