/** A board that is worn, in a room, and those who come back to it. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { loadBoard, readDesign } from '../../../engine/document/index.ts';
import { blankBoard } from '../../../server/boards/blank-board.ts';
import { ask } from '../../support/ask.ts';
import { until } from '../../support/until.ts';
import { seededRandom } from '../chaos.ts';
import { designOf, fileOf, runAll } from '../edited-designs.ts';
import { message, RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

describe('renewal in a room', () => {
  let server: TestServer;
  const clients: RawClient[] = [];
  beforeEach(async () => {
    server = await startTestServer({ env: { RENEW_BYTES: '20000' } });
  });
  afterEach(async () => {
    for (const client of clients.splice(0)) client.close();
    await server.close();
  });

  async function enter(board: string, doc?: Y.Doc): Promise<RawClient> {
    const client = new RawClient(`${server.ws}/${board}/design`);
    if (doc) Y.applyUpdate(client.doc, Y.encodeStateAsUpdate(doc));
    clients.push(client);
    await client.opened;
    return client;
  }

  /** Ties the same knots again and again, through the client, until the document is worn. */
  async function wear(client: RawClient): Promise<void> {
    const design = designOf(client.doc);
    const before = Y.encodeStateVector(client.doc);
    const random = seededRandom(3);
    // In no order: the past of knots tied one after the other would fold into little.
    for (let i = 0; i < 4000; i += 1) {
      const knot = (1 + Math.floor(random() * 4)) as 1 | 2 | 3 | 4;
      const [row, k] = [Math.floor(random() * 12), Math.floor(random() * 3)];
      design.run({ kind: 'set-knots', knots: [{ row, k, knot }] });
    }
    client.send(message(0, 2, Y.encodeStateAsUpdate(client.doc, before)));
    client.mark(1);
    await client.savedMark(1);
    design.dispose();
  }

  it('[V103] a worn board is renewed when the last has left, and a newcomer gets a small document', async () => {
    const board = await makeBoard(server);
    const maker = await (await enter(board)).join();
    await wear(maker);
    const file = fileOf(maker.doc);
    const worn = Y.encodeStateAsUpdate(maker.doc).length;
    maker.close();
    await until('the room is gone', () => server.rooms.size === 0);
    const late = await (await enter(board)).join();
    expect(Y.encodeStateAsUpdate(late.doc).length).toBeLessThan(worn / 5);
    expect(fileOf(late.doc)).toEqual(file);
    expect(server.metrics.valueOf('larkboard_renewals_total')).toBe(1);
  });

  it('[V104] who comes back with edits from before finds them in the renewed board', async () => {
    const board = await makeBoard(server);
    const maker = await (await enter(board)).join();
    await wear(maker);
    maker.close();
    await until('the room is gone', () => server.rooms.size === 0);
    // Offline, on the copy of the ended generation.
    runAll(maker.doc, [
      { kind: 'insert-row-pairs', at: 1, count: 1 },
      { kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 3 }] },
      { kind: 'set-title', title: 'made offline' },
    ]);
    const back = await enter(board, maker.doc);
    back.send(message(0, 0, Y.encodeStateVector(back.doc)));
    back.mark(1);
    expect(await back.closed).toBe(4410);
    // The mark came before the copy, whose edits were on the disk when it was answered.
    expect(back.heard.some((one) => one.kind === 'saved' && one.mark === 1)).toBe(true);
    const anew = await (await enter(board)).join();
    expect(fileOf(anew.doc)).toEqual(fileOf(maker.doc));
    // The copy is not mixed into the present document.
    expect(Y.encodeStateAsUpdate(anew.doc).length).toBeLessThan(12_000);
    // Bringing the same copy again changes nothing more.
    const again = await enter(board, maker.doc);
    again.send(message(0, 0, Y.encodeStateVector(again.doc)));
    expect(await again.closed).toBe(4410);
    expect(fileOf(anew.doc).rows.length).toBe(14);
  });

  it('[V104] edits made while a copy is being taken over are taken over too', async () => {
    const board = await makeBoard(server);
    const maker = await (await enter(board)).join();
    await wear(maker);
    maker.close();
    await until('the room is gone', () => server.rooms.size === 0);
    const back = await enter(board, maker.doc);
    const design = designOf(back.doc);
    back.doc.on('update', (update: Uint8Array) => back.send(message(0, 2, update)));
    let edits = 0;
    back.socket.on('message', () => {
      if (edits > 0 || !back.heard.some((one) => one.kind === 'step1')) return;
      // The copy has gone; these follow it one by one, on a history that the present document does not have.
      for (; edits < 5; edits += 1) design.run({ kind: 'set-title', title: `title ${edits}` });
    });
    back.send(message(0, 0, Y.encodeStateVector(back.doc)));
    expect(await back.closed).toBe(4410);
    expect(back.heard.filter((one) => one.kind === 'step1')).toHaveLength(2);
    const anew = await (await enter(board)).join();
    expect(readDesign(anew.doc).board.title).toBe('title 4');
    design.dispose();
  });

  it('[V193] a copy that has no place any more is kept as a version, once, and can be read', async () => {
    const board = await makeBoard(server);
    const maker = await (await enter(board)).join();
    await wear(maker);
    maker.close();
    await until('the room is gone', () => server.rooms.size === 0);
    const present = await (await enter(board)).join();
    runAll(present.doc, [loadBoard(blankBoard(6, 4, 'another'))]);
    present.send(message(0, 2, Y.encodeStateAsUpdate(present.doc)));
    present.mark(1);
    await present.savedMark(1);
    runAll(maker.doc, [{ kind: 'set-title', title: 'made offline' }]);
    for (let time = 0; time < 2; time += 1) {
      const back = await enter(board, maker.doc);
      back.send(message(0, 0, Y.encodeStateVector(back.doc)));
      expect(await back.closed).toBe(4410);
    }
    const answer = await ask(`${server.http}/api/boards/${board}/versions`);
    const { versions } = (await answer.json()) as { versions: readonly { kind: string; title: string }[] };
    expect(versions.filter(({ kind }) => kind === 'late')).toMatchObject([{ title: 'made offline' }]);
    expect(readDesign((await (await enter(board)).join()).doc).board.title).toBe('another');
  });

  it('[V105] a small or hardly worn board keeps its document', async () => {
    const board = await makeBoard(server);
    const maker = await (await enter(board)).join();
    maker.close();
    await until('the room is gone', () => server.rooms.size === 0);
    const back = await (await enter(board, maker.doc)).join();
    expect(back.closeCode).toBeNull();
    expect(server.metrics.valueOf('larkboard_renewals_total')).toBe(0);
  });
});
