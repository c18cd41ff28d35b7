/** What every store must do, run against each of them. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type DocumentAddress, type Store, StoreError } from '../../server/store/index.ts';

export interface OpenedStore {
  readonly store: Store;
  /** Closes the store and opens it again on the same data; null where nothing outlives the store. */
  readonly reopen: (() => Promise<Store>) | null;
  readonly dispose: () => Promise<void>;
  /** How many rows each commit held so far; absent where there are no commits. */
  readonly commits?: readonly number[];
}

const bytesOf = (...values: number[]): Uint8Array => Uint8Array.from(values);
const record = (id: string, createdAt = 5) => ({ id, kind: 'board', createdAt }) as const;
const design = (board: string): DocumentAddress => ({ board, part: 'design' });
const kept = (id: string) => ({ board: 'a', kind: 'version', id, about: '{}', bytes: bytesOf(1) });

async function rowsOf(store: Store, address: DocumentAddress): Promise<number[][]> {
  return (await store.load(address)).map((row) => [...row.bytes]);
}

export function storeContract(name: string, open: () => Promise<OpenedStore>): void {
  describe(`store: ${name}`, () => {
    let opened: OpenedStore;
    let store: Store;
    beforeEach(async () => {
      opened = await open();
      store = opened.store;
    });
    afterEach(async () => {
      await opened.dispose();
    });

    it('[V60] a board is there with its documents once made, and made only once', async () => {
      expect(await store.board('a')).toBeNull();
      expect(await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1, 2) }])).toBe(true);
      expect(await store.board('a')).toEqual(record('a'));
      expect(await rowsOf(store, design('a'))).toEqual([[1, 2]]);
      expect(await store.addBoard(record('a', 9), [{ part: 'design', bytes: bytesOf(7) }])).toBe(false);
      expect(await store.board('a')).toEqual(record('a'));
      expect(await rowsOf(store, design('a'))).toEqual([[1, 2]]);
    });

    it('[V60] so are the records it begins with, and it is found by them', async () => {
      const first = { kind: 'making', id: 'board', about: 'made', bytes: bytesOf(3) };
      await store.addBoard(record('b', 2), [], [first]);
      await store.addBoard(record('a', 2), [], [first, { ...first, id: 'other' }]);
      await store.addBoard(record('z', 1), [], [first]);
      await store.addBoard(record('none'), [], []);
      await store.putRecord({ ...first, board: 'none', kind: 'version' });
      expect(await store.addBoard(record('none'), [], [first])).toBe(false);
      const kept = await store.record('a', 'making', 'board');
      expect(kept && { ...kept, bytes: [...kept.bytes] }).toEqual({ ...first, board: 'a', bytes: [3] });
      const ids = async (): Promise<string[]> =>
        (await store.boardsWithRecord('making')).map((board) => board.id);
      expect(await ids()).toEqual(['z', 'a', 'b']);
      await store.removeRecord('b', 'making', 'board');
      expect(await ids()).toEqual(['z', 'a']);
    });

    it('[V60] boards of a kind come oldest first', async () => {
      await store.addBoard({ id: 'z', kind: 'demo', createdAt: 1 }, []);
      await store.addBoard({ id: 'b', kind: 'demo', createdAt: 2 }, []);
      await store.addBoard({ id: 'a', kind: 'demo', createdAt: 2 }, []);
      await store.addBoard(record('other'), []);
      expect((await store.boardsOfKind('demo')).map((board) => board.id)).toEqual(['z', 'a', 'b']);
    });

    it('[V61] rows come back in order, byte for byte, each document for itself', async () => {
      await store.addBoard(record('a'), []);
      const all = Uint8Array.from({ length: 256 }, (_, i) => i);
      const first = await store.append(design('a'), all);
      const second = await store.append(design('a'), bytesOf());
      await store.append({ board: 'a', part: 'talk' }, bytesOf(9));
      expect(second).toBeGreaterThan(first);
      expect(await rowsOf(store, design('a'))).toEqual([[...all], []]);
      expect(await rowsOf(store, { board: 'a', part: 'talk' })).toEqual([[9]]);
      expect(await store.load({ board: 'a', part: 'lesson' })).toEqual([]);
    });

    it('[V61] a view into a larger buffer is stored as the view', async () => {
      await store.addBoard(record('a'), []);
      await store.append(design('a'), bytesOf(0, 1, 2, 3, 4).subarray(1, 3));
      expect(await rowsOf(store, design('a'))).toEqual([[1, 2]]);
    });

    it('[V62] many appends at once all arrive, each with its own seq', async () => {
      await store.addBoard(record('a'), []);
      await store.addBoard(record('b'), []);
      const seqs = await Promise.all(
        Array.from({ length: 200 }, (_, i) => store.append(design(i % 2 ? 'a' : 'b'), bytesOf(i))),
      );
      expect(new Set(seqs).size).toBe(200);
      const a = await store.load(design('a'));
      expect(a).toHaveLength(100);
      for (const row of a) expect(seqs[row.bytes[0]!]).toBe(row.seq);
    });

    it('[V304] a commit has at most 8 MiB of rows, and 1,000 of them; what is larger goes alone', async () => {
      const { commits } = opened;
      if (commits === undefined) return;
      await store.addBoard(record('a'), []);
      const seq = await store.append(design('a'), bytesOf(1));
      const renewal = { seqs: [seq], snapshot: bytesOf(2), generation: 0, drawn: '', lastState: bytesOf(1) };
      expect(await store.renew(design('a'), renewal)).toBe(true);
      const lastState = { generation: 0, bytes: new Uint8Array(2 ** 21), version: 0 };
      const sizes = [2 ** 21, 2 ** 21, 2 ** 21, 2 ** 21, 9 * 2 ** 20, 1, 2 ** 22, 2 ** 21];
      const before = commits.length;
      const seqs = await Promise.all([
        ...sizes.map((size) => store.append(design('a'), new Uint8Array(size), { generation: 1 })),
        store.append(design('a'), new Uint8Array(2 ** 21), { generation: 1, lastState }),
      ]);
      expect(commits.slice(before)).toEqual([4, 1, 3, 1]);
      const [, ...rows] = await store.load(design('a'));
      expect(rows.map(({ seq, bytes }) => [seq, bytes.length])).toEqual(
        [...sizes, 2 ** 21].map((size, index) => [seqs[index], size]),
      );
      await Promise.all(Array.from({ length: 1_001 }, () => store.append(design('a'), bytesOf(1))));
      expect(commits.slice(before + 4)).toEqual([1_000, 1]);
      const kinds = Array.from({ length: 5 }, (_, i) =>
        store.putRecord({ ...kept(`${i}`), bytes: new Uint8Array(3 * 2 ** 20) }),
      );
      expect(await Promise.all(kinds)).toEqual(Array(5).fill(true));
    });

    it('[V63] nothing is appended to a board that is not there', async () => {
      await store.addBoard(record('a'), []);
      const [lost, kept] = await Promise.allSettled([
        store.append(design('nobody'), bytesOf(1)),
        store.append(design('a'), bytesOf(2)),
      ]);
      expect(lost.status === 'rejected' && lost.reason).toBeInstanceOf(StoreError);
      expect(lost.status === 'rejected' && (lost.reason as StoreError).kind).toBe('unknown-board');
      expect(kept.status).toBe('fulfilled');
      await expect(store.compact(design('nobody'), [], bytesOf(1))).rejects.toThrow(StoreError);
    });

    it('[V64] a snapshot takes the place of the rows named and of no others', async () => {
      await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1) }]);
      await store.append({ board: 'a', part: 'talk' }, bytesOf(8));
      const talk = (await store.load({ board: 'a', part: 'talk' }))[0]!.seq;
      const seqs = (await store.load(design('a'))).map((row) => row.seq);
      seqs.push(await store.append(design('a'), bytesOf(2)));
      const late = await store.append(design('a'), bytesOf(3));
      const snapshot = await store.compact(design('a'), [...seqs, talk, 999_999], bytesOf(1, 2));
      const rows = await store.load(design('a'));
      expect(rows.map((row) => row.seq)).toEqual([late, snapshot].sort((x, y) => x - y));
      expect(new Set(rows.map((row) => [...row.bytes].join()))).toEqual(new Set(['3', '1,2']));
      expect(await rowsOf(store, { board: 'a', part: 'talk' })).toEqual([[8]]);
    });

    it('[V69] a new generation takes the place of exactly the rows named, and the last state of the ended one is kept', async () => {
      await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1) }]);
      const [one] = await store.load(design('a'));
      const two = await store.append(design('a'), bytesOf(2));
      const renewal = { snapshot: bytesOf(9), generation: 1, drawn: '', lastState: bytesOf(1, 2) };
      expect(await store.renew(design('a'), { ...renewal, seqs: [one!.seq] })).toBe(false);
      expect(await store.renew(design('a'), { ...renewal, seqs: [one!.seq, two, 999_999] })).toBe(false);
      expect(await rowsOf(store, design('a'))).toEqual([[1], [2]]);
      expect(await store.lastState(design('a'), 1)).toBeNull();
      expect(await store.renew(design('a'), { ...renewal, seqs: [two, one!.seq] })).toBe(true);
      expect(await rowsOf(store, design('a'))).toEqual([[9]]);
      expect([...(await store.lastState(design('a'), 1))!]).toEqual([1, 2]);
      expect(await store.lastState(design('a'), 2)).toBeNull();
      const lastState = { generation: 1, bytes: bytesOf(1, 2, 3), version: 0 };
      await store.append(design('a'), bytesOf(4), { generation: 2, lastState });
      expect([...(await store.lastState(design('a'), 1))!]).toEqual([1, 2, 3]);
      expect(await rowsOf(store, design('a'))).toEqual([[9], [4]]);
      await store.removeBoard('a');
      expect(await store.lastState(design('a'), 1)).toBeNull();
      // Somebody's edits on it were being brought over meanwhile: they must not bring it back.
      await expect(store.append(design('a'), bytesOf(5), { generation: 2, lastState })).rejects.toMatchObject(
        {
          kind: 'unknown-board',
        },
      );
      expect(await store.lastState(design('a'), 1)).toBeNull();
      expect((await store.check()).faults).toEqual([]);
    });

    it('[V106] rows of a generation that has ended are refused, alone or among others, and change nothing', async () => {
      await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1) }]);
      await store.addBoard(record('b'), []);
      const one = (await store.load(design('a')))[0]!.seq;
      const renewal = { seqs: [one], snapshot: bytesOf(9), generation: 1, drawn: '', lastState: bytesOf(1) };
      expect(await store.renew(design('a'), renewal)).toBe(true);
      const lastState = { generation: 1, bytes: bytesOf(7), version: 0 };
      const [late, own, other, nobody] = await Promise.allSettled([
        store.append(design('a'), bytesOf(2), { generation: 1, lastState }),
        store.append(design('a'), bytesOf(3), { generation: 2 }),
        store.append(design('b'), bytesOf(4), { generation: 1 }),
        store.append(design('nobody'), bytesOf(5), { generation: 1 }),
      ]);
      expect(late).toMatchObject({ status: 'rejected', reason: { kind: 'outdated' } });
      expect([own.status, other.status]).toEqual(['fulfilled', 'fulfilled']);
      expect(nobody).toMatchObject({ status: 'rejected', reason: { kind: 'unknown-board' } });
      await expect(store.compact(design('a'), [one], bytesOf(6), 1)).rejects.toMatchObject({
        kind: 'outdated',
      });
      expect(await rowsOf(store, design('a'))).toEqual([[9], [3]]);
      expect([...(await store.lastState(design('a'), 1))!]).toEqual([1]);
    });

    it('[V69] ended generations are listed with their names and versions, latest first', async () => {
      await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1) }]);
      for (const [generation, drawn] of [
        [1, ''],
        [2, 'A-drawn_name0123'],
      ] as const) {
        const seqs = (await store.load(design('a'))).map(({ seq }) => seq);
        const renewal = { seqs, snapshot: bytesOf(9), generation, drawn, lastState: bytesOf(generation) };
        expect(await store.renew(design('a'), renewal)).toBe(true);
      }
      expect(await store.endedGenerations(design('a'))).toEqual([
        { generation: 2, drawn: 'A-drawn_name0123', version: 0 },
        { generation: 1, drawn: '', version: 0 },
      ]);
      const lastState = { generation: 1, bytes: bytesOf(1, 2), version: 0 };
      await store.append(design('a'), bytesOf(4), { generation: 3, lastState });
      expect((await store.endedGenerations(design('a')))[1]).toEqual({
        generation: 1,
        drawn: '',
        version: 1,
      });
      expect(await store.endedGenerations({ board: 'a', part: 'talk' })).toEqual([]);
      expect(await store.endedGenerations(design('nobody'))).toEqual([]);
    });

    it('[V350] of two that write one last state from the same one, exactly one is stored, with its row', async () => {
      await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1) }]);
      const seqs = (await store.load(design('a'))).map(({ seq }) => seq);
      const renewal = { seqs, snapshot: bytesOf(9), generation: 1, drawn: '', lastState: bytesOf(1) };
      expect(await store.renew(design('a'), renewal)).toBe(true);
      const write = (byte: number, version: number) =>
        store.append(design('a'), bytesOf(byte), {
          generation: 2,
          lastState: { generation: 1, bytes: bytesOf(1, byte), version },
        });
      // In one commit, and then in two.
      const both = await Promise.allSettled([
        write(20, 0),
        write(21, 0),
        store.append(design('a'), bytesOf(3)),
      ]);
      expect(both.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
      expect(both[1]).toMatchObject({ reason: { kind: 'overtaken' } });
      await expect(write(22, 0)).rejects.toMatchObject({ kind: 'overtaken' });
      expect((await rowsOf(store, design('a'))).sort()).toEqual([[20], [3], [9]]);
      expect([...(await store.lastState(design('a'), 1))!]).toEqual([1, 20]);
      await write(23, 1);
      expect([...(await store.lastState(design('a'), 1))!]).toEqual([1, 23]);
      // Nor is anything stored beside a state that is not there.
      await expect(
        store.append(design('a'), bytesOf(5), {
          generation: 2,
          lastState: { generation: 7, bytes: bytesOf(7), version: 0 },
        }),
      ).rejects.toMatchObject({ kind: 'overtaken' });
      expect(await store.load(design('a'))).toHaveLength(4);
      expect((await store.check()).faults).toEqual([]);
    });

    it('[V65] a removed board leaves nothing', async () => {
      await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1) }]);
      await store.addBoard(record('b'), [{ part: 'design', bytes: bytesOf(2) }]);
      await store.putRecord(kept('v'));
      await store.putRecord({ ...kept('v'), board: 'b' });
      const rows = await store.load(design('a'));
      await store.compact(design('a'), [rows[0]!.seq], bytesOf(1), 1);
      expect(await store.removeBoard('a')).toBe(true);
      expect(await store.writtenRows(design('a'))).toEqual([]);
      expect((await store.check()).faults).toEqual([]);
      expect(await store.removeBoard('a')).toBe(false);
      expect(await store.records('a', null)).toEqual([]);
      expect(await store.records('b', null)).toHaveLength(1);
      expect(await store.board('a')).toBeNull();
      expect(await store.load(design('a'))).toEqual([]);
      expect(await rowsOf(store, design('b'))).toEqual([[2]]);
    });

    it('[V79] a record comes back byte for byte, each under its board, kind and id', async () => {
      await store.addBoard(record('a'), []);
      await store.addBoard(record('b'), []);
      const all = Uint8Array.from({ length: 256 }, (_, i) => i);
      const about = JSON.stringify({ name: 'Möwe 🪁 "quoted"\n', made: 5 });
      expect(await store.putRecord({ ...kept('v'), about, bytes: all.subarray(3, 9) })).toBe(true);
      expect(await store.putRecord({ ...kept('v'), kind: 'proposal', bytes: bytesOf() })).toBe(true);
      expect(await store.putRecord({ ...kept('v'), board: 'b', bytes: all })).toBe(true);
      const got = await store.record('a', 'version', 'v');
      expect({ ...got, bytes: [...got!.bytes] }).toEqual({ ...kept('v'), about, bytes: [3, 4, 5, 6, 7, 8] });
      expect([...(await store.record('b', 'version', 'v'))!.bytes]).toEqual([...all]);
      expect(await store.record('a', 'version', 'w')).toBeNull();
      expect(await store.record('nobody', 'version', 'v')).toBeNull();
    });

    it('[V79] records are listed without their bytes, of one kind or of all', async () => {
      await store.addBoard(record('a'), []);
      await store.addBoard(record('b'), []);
      for (const id of ['b', 'a', '_', 'B', 'ä'])
        await store.putRecord({ ...kept(id), about: `"${id}"`, bytes: bytesOf(1, 2, 3) });
      await store.putRecord({ ...kept('p'), kind: 'proposal' });
      await store.putRecord({ ...kept('elsewhere'), board: 'b' });
      const versions = await store.records('a', 'version');
      expect(versions.map(({ id }) => id)).toEqual(['B', '_', 'a', 'b', 'ä']);
      expect(versions[2]).toEqual({ board: 'a', kind: 'version', id: 'a', about: '"a"', size: 3 });
      expect((await store.records('a', null)).map(({ kind, id }) => `${kind}/${id}`)).toEqual([
        'proposal/p',
        ...versions.map(({ id }) => `version/${id}`),
      ]);
      expect(await store.records('a', 'other')).toEqual([]);
      expect(await store.records('nobody', null)).toEqual([]);
    });

    it('[V79] a record takes the place of the one before; where the former is named, only that one', async () => {
      await store.addBoard(record('a'), []);
      expect(await store.putRecord({ ...kept('v'), about: '1' }, '0')).toBe(false);
      expect(await store.putRecord({ ...kept('v'), about: '1' }, null)).toBe(true);
      expect(await store.putRecord({ ...kept('v'), about: '2' }, null)).toBe(false);
      expect(await store.putRecord({ ...kept('v'), about: '2' }, '0')).toBe(false);
      expect((await store.record('a', 'version', 'v'))?.about).toBe('1');
      const both = await Promise.all(
        ['2', '3'].map((about) => store.putRecord({ ...kept('v'), about, bytes: bytesOf(9) }, '1')),
      );
      expect(both.filter(Boolean)).toHaveLength(1);
      const won = await store.record('a', 'version', 'v');
      expect([won?.about, ...won!.bytes]).toEqual([both[0] ? '2' : '3', 9]);
      expect(await store.putRecord({ ...kept('v'), about: '4' })).toBe(true);
      expect(await store.records('a', null)).toHaveLength(1);
    });

    it('[V465] a record is kept only among those that were counted, also of many that counted the same at once', async () => {
      await store.addBoard(record('a'), []);
      await store.addBoard(record('b'), []);
      await store.putRecord(kept('v'));
      await store.putRecord({ ...kept('p'), kind: 'proposal' });
      await store.putRecord({ ...kept('elsewhere'), board: 'b' });
      const counted = await store.records('a', 'version');
      const many = await Promise.all(
        ['w', 'x', 'y'].map((id) => store.putRecord(kept(id), undefined, counted)),
      );
      expect(many.filter(Boolean)).toHaveLength(1);
      const now = await store.records('a', 'version');
      expect(now).toHaveLength(2);
      // One more, one less, and one that is another by now.
      const [first, second] = now;
      for (const stale of [
        [],
        [first!],
        [...now, { id: 'z', about: '{}' }],
        [first!, { ...second!, about: '1' }],
      ])
        expect(await store.putRecord(kept('z'), null, stale)).toBe(false);
      expect(await store.putRecord(kept('z'), '{}', now)).toBe(false);
      expect(await store.putRecord({ ...kept('v'), about: '2' }, '{}', [second!, first!])).toBe(true);
      expect((await store.records('a', 'version')).map(({ about }) => about).sort()).toEqual(['2', '{}']);
      await expect(store.putRecord({ ...kept('v'), board: 'nobody' }, null, [])).rejects.toMatchObject({
        kind: 'unknown-board',
      });
    });

    it('[V79] a record is forgotten once, others stay; nothing is kept for a board that is not there', async () => {
      await store.addBoard(record('a'), []);
      await store.putRecord(kept('v'));
      await store.putRecord(kept('w'));
      const [lost, row] = await Promise.allSettled([
        store.putRecord({ ...kept('v'), board: 'nobody' }),
        store.append(design('a'), bytesOf(2)),
      ]);
      expect(lost.status === 'rejected' && (lost.reason as StoreError).kind).toBe('unknown-board');
      expect(row.status).toBe('fulfilled');
      expect(await store.removeRecord('a', 'proposal', 'v')).toBe(false);
      expect(await store.removeRecord('a', 'version', 'v', 'other')).toBe(false);
      expect(await store.removeRecord('a', 'version', 'none', '{}')).toBe(false);
      expect(await store.removeRecord('a', 'version', 'v', '{}')).toBe(true);
      expect(await store.removeRecord('a', 'version', 'v')).toBe(false);
      expect((await store.records('a', null)).map(({ id }) => id)).toEqual(['w']);
    });

    it('[V420] rows whose place a snapshot takes stay as the past of a design, with who wrote them, once each', async () => {
      await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1) }]);
      const talk: DocumentAddress = { board: 'a', part: 'talk' };
      await store.append(talk, bytesOf(8), { by: 'nobody asks' });
      const [founding] = (await store.load(design('a'))).map(({ seq }) => seq);
      const one = await store.append(design('a'), bytesOf(2), { generation: 1, by: 'ada' });
      const two = await store.append(design('a'), bytesOf(3), { generation: 1, by: 'bo "ß"' });
      const shown = async () =>
        (await store.writtenRows(design('a'))).map(({ seq, generation, by, bytes }) => [
          seq,
          generation,
          by,
          ...bytes,
        ]);
      expect(await shown()).toEqual([
        [founding, null, '', 1],
        [one, null, 'ada', 2],
        [two, null, 'bo "ß"', 3],
      ]);
      expect(await store.pastSize(design('a'))).toEqual({ bytes: 0, oldestBy: '' });
      // As two nodes do it that hold the same rows: the second finds some of them gone.
      const first = await store.compact(design('a'), [founding!, one], bytesOf(1, 2), 1);
      const second = await store.compact(design('a'), [founding!, one, two], bytesOf(1, 2, 3), 1);
      const late = await store.append(design('a'), bytesOf(4), { generation: 1 });
      expect((await store.load(design('a'))).map(({ seq }) => seq)).toEqual([first, second, late]);
      const past = [
        [founding, 1, '', 1],
        [one, 1, 'ada', 2],
        [two, 1, 'bo "ß"', 3],
      ];
      expect(await shown()).toEqual([...past, [late, null, '', 4]]);
      expect(await store.pastSize(design('a'))).toEqual({ bytes: 3, oldestBy: 'ada' });
      // Snapshots that stand for rows of the past do not go there themselves.
      const seqs = (await store.load(design('a'))).map(({ seq }) => seq);
      const renewal = { seqs, snapshot: bytesOf(9), generation: 1, drawn: '', lastState: bytesOf(7) };
      expect(await store.renew(design('a'), renewal)).toBe(true);
      const [begun] = (await store.load(design('a'))).map(({ seq }) => seq);
      expect(await shown()).toEqual([...past, [late, 1, '', 4], [begun, null, '', 9]]);
      await store.compact(
        talk,
        (await store.load(talk)).map(({ seq }) => seq),
        bytesOf(8),
        1,
      );
      expect(await store.writtenRows(talk)).toHaveLength(1);
      expect(await store.pastSize(talk)).toEqual({ bytes: 0, oldestBy: '' });
      expect((await store.check()).faults).toEqual([]);
    });

    it('[V421] the oldest of the past give way to one row that holds them, or to nothing; all or none', async () => {
      await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1) }]);
      for (const byte of [2, 3]) await store.append(design('a'), bytesOf(byte), { by: 'ada' });
      const seqs = (await store.load(design('a'))).map(({ seq }) => seq);
      await store.compact(design('a'), seqs, bytesOf(1, 2, 3), 4);
      const shown = async () =>
        (await store.writtenRows(design('a'))).map(({ seq, generation, by, bytes }) => [
          seq,
          generation,
          by,
          ...bytes,
        ]);
      const fold = { seqs: seqs.slice(0, 2), generation: 4, base: bytesOf(5, 6) };
      expect(await store.foldPast(design('a'), { ...fold, seqs: [...fold.seqs, 999_999] })).toBe(false);
      expect(await store.foldPast({ board: 'a', part: 'talk' }, fold)).toBe(false);
      expect(await shown()).toHaveLength(3);
      const twice = await Promise.all([store.foldPast(design('a'), fold), store.foldPast(design('a'), fold)]);
      expect(twice.sort()).toEqual([false, true]);
      expect(await shown()).toEqual([
        [seqs[1], 4, '', 5, 6],
        [seqs[2], 4, 'ada', 3],
      ]);
      expect(await store.pastSize(design('a'))).toEqual({ bytes: 3, oldestBy: 'ada' });
      expect(await store.foldPast(design('a'), { seqs: seqs.slice(1), generation: 4, base: null })).toBe(
        true,
      );
      expect(await shown()).toEqual([]);
      expect(await store.load(design('a'))).toHaveLength(1);
    });

    it('[V66] the check counts what is there and finds no fault', async () => {
      await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1, 2, 3) }]);
      await store.append({ board: 'a', part: 'talk' }, bytesOf(4));
      await store.putRecord({ ...kept('v'), bytes: bytesOf(5, 6) });
      expect(await store.check()).toEqual({
        boards: 1,
        documents: 2,
        rows: 2,
        records: 1,
        bytes: 6,
        faults: [],
      });
    });

    it('[V67] a closed store says so, and closing twice is nothing', async () => {
      await store.addBoard(record('a'), []);
      const appended = Promise.all([store.append(design('a'), bytesOf(1)), store.putRecord(kept('v'))]);
      await store.close();
      await appended;
      await store.close();
      await expect(store.append(design('a'), bytesOf(1))).rejects.toMatchObject({ kind: 'closed' });
      await expect(store.load(design('a'))).rejects.toMatchObject({ kind: 'closed' });
      await expect(store.putRecord(kept('w'))).rejects.toMatchObject({ kind: 'closed' });
      await expect(store.records('a', null)).rejects.toMatchObject({ kind: 'closed' });
    });

    it('[V68] everything is there after opening again', async () => {
      if (opened.reopen === null) return;
      await store.addBoard(record('a'), [{ part: 'design', bytes: bytesOf(1) }]);
      const seq = await store.append(design('a'), bytesOf(2));
      await store.putRecord({ ...kept('v'), bytes: bytesOf(7) });
      const again = await opened.reopen();
      expect([...(await again.record('a', 'version', 'v'))!.bytes]).toEqual([7]);
      expect(await again.board('a')).toEqual(record('a'));
      expect(await rowsOf(again, design('a'))).toEqual([[1], [2]]);
      expect(await again.append(design('a'), bytesOf(3))).toBeGreaterThan(seq);
    });
  });
}
