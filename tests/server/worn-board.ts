/** Boards that are mostly their past, and copies of what they were. */
import * as Y from 'yjs';
import { type Command, Design } from '../../engine/document/index.ts';
import type { KnotCode } from '../../engine/index.ts';
import { until } from '../support/until.ts';
import { seededRandom } from './chaos.ts';
import { message, RawClient } from './raw-client.ts';
import { makeBoard, type TestServer } from './test-server.ts';

/** From how many bytes on boards are renewed in tests of it. */
export const RENEWS = { RENEW_BYTES: '20000' };

let count = 0;
const newId = (): string => {
  count += 1;
  return `w${count}`;
};

/** Edits a design. @throws Error when a command is refused */
export function runAll(doc: Y.Doc, commands: readonly Command[]): void {
  const design = new Design(doc, { makerId: 'm', newId, captureMs: 0 });
  for (const command of commands) {
    const result = design.run(command);
    if (!result.ok) throw new Error(`${command.kind}: ${result.error.message}`);
  }
  design.dispose();
}

/** Ties the same knots again and again, in no order: what was tied one after the other would fold into little. */
export function tieOver(doc: Y.Doc, times: number): void {
  const random = seededRandom(3);
  runAll(
    doc,
    Array.from({ length: times }, () => ({
      kind: 'set-knots' as const,
      knots: [
        {
          row: Math.floor(random() * 12),
          k: Math.floor(random() * 3),
          knot: (1 + Math.floor(random() * 4)) as KnotCode,
        },
      ],
    })),
  );
}

/** Sends what was edited, and waits until it is on the disk. */
export async function save(client: RawClient, edit: (doc: Y.Doc) => void): Promise<void> {
  const before = Y.encodeStateVector(client.doc);
  edit(client.doc);
  client.send(message(0, 2, Y.encodeStateAsUpdate(client.doc, before)));
  const mark = 1_000 + count;
  client.mark(mark);
  await client.savedMark(mark);
}

/** A copy of the first generation, all of it saved, of a board that was renewed since. */
export async function renewedBoard(
  server: TestServer,
  wear = (client: RawClient): Promise<void> => save(client, (doc) => tieOver(doc, 4_000)),
): Promise<{ readonly board: string; readonly copy: Y.Doc }> {
  const board = await makeBoard(server);
  const maker = await new RawClient(`${server.ws}/${board}/design`).join();
  await wear(maker);
  await leave(server, maker);
  return { board, copy: maker.doc };
}

/** Leaves as the last. */
export async function leave(server: TestServer, client: RawClient): Promise<void> {
  client.close();
  await until('the room is gone', () => server.rooms.size === 0);
}

/** Somebody who comes with a copy, and says so as every client does. */
export async function comeWith(server: TestServer, board: string, copy: Y.Doc): Promise<RawClient> {
  const client = new RawClient(`${server.ws}/${board}/design`);
  Y.applyUpdate(client.doc, Y.encodeStateAsUpdate(copy));
  await client.opened;
  client.send(message(0, 0, Y.encodeStateVector(client.doc)));
  return client;
}
