/**
 * How long others wait for a guest who sends what takes Yjs steps by the square, beside what an honest edit of a whole board takes. The
 * server is a process of its own; this one asks it whether it is there, again and again, and the longest wait counts. Rewrites
 * sync-costly.md, unless `MAX_STEPS` shows how it is with another limit, or with hardly any.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import * as Y from 'yjs';
import { ask } from '../support/ask.ts';
import { COSTLY_UPDATES, MAKER, STRANGER } from '../support/costly-updates.ts';
import { craftUpdate, values } from '../support/crafted-update.ts';
import { type ChildServer, makeOwnBoard, startChild } from '../server/child-server.ts';
import { message, RawClient } from '../server/raw-client.ts';
import { writeResult } from './sync-results.ts';

const ROUNDS = Number(process.env.COSTLY_ROUNDS ?? 5);
const SIZE = 6_000;
const [UPDATE, STEP_2] = [2, 1];

interface Board {
  readonly id: string;
  readonly headers: { readonly cookie: string };
}

interface Case {
  /** Makes it ready, while nobody measures. */
  readonly prepare?: (client: RawClient) => Promise<void>;
  /** What is sent, one frame after the other. */
  readonly frames: () => readonly Uint8Array[];
}

const bring = async (client: RawClient, update: Uint8Array): Promise<void> => {
  client.send(message(0, STEP_2, update));
  client.mark(1);
  await client.savedMark(1);
};

/** All knots of a board of 200 strings and 400 rows, each by itself. */
function fullEdit(): Uint8Array {
  const doc = new Y.Doc();
  doc.transact(() => {
    for (let i = 0; i < 40_000; i += 1) doc.getMap('knots').set(`row${i >> 7}.pair${i & 127}:half:i`, i % 5);
  });
  return Y.encodeStateAsUpdate(doc);
}

const PAST = 'a key with a long past, and another behind its beginning';
const CASES: Readonly<Record<string, Case>> = {
  'an honest edit of 40,000 knots': { frames: () => [message(0, STEP_2, fullEdit())] },
  ...Object.fromEntries(
    Object.entries(COSTLY_UPDATES).map(([name, make]): [string, Case] => {
      // Many clients: as many as a socket may bring.
      const { before, update } = make(name.startsWith('many') ? 3_000 : SIZE);
      return [
        name,
        {
          ...(before !== null && { prepare: (client: RawClient) => bring(client, before) }),
          frames: () => [message(0, STEP_2, update)],
        },
      ];
    }),
  ),
  'the same past, in pieces of one struct': {
    prepare: (client) => bring(client, COSTLY_UPDATES[PAST]!(SIZE).before!),
    frames: () =>
      Array.from({ length: 1_000 }, (_, n) =>
        message(
          0,
          UPDATE,
          craftUpdate([
            { client: STRANGER, clock: n, structs: [{ origin: [MAKER, 0], content: values(1) }] },
          ]),
        ),
      ),
  },
};

/** The longest that the server took to answer while something was done. */
async function longestWait(server: ChildServer, during: () => Promise<void>): Promise<number> {
  let isOver = false;
  let longest = 0;
  const asking = (async () => {
    while (!isOver) {
      const began = performance.now();
      await ask(`${server.http}/healthz`);
      longest = Math.max(longest, performance.now() - began);
    }
  })();
  await during();
  isOver = true;
  await asking;
  return longest;
}

const clientOf = (server: ChildServer, { id, headers }: Board): RawClient =>
  new RawClient(`${server.ws}/${id}/design`, { headers });

/** @returns waits while it is sent, and while somebody else comes, and the code with which the socket was closed */
async function measure(
  server: ChildServer,
  one: Case,
): Promise<{ readonly sent: number; readonly joined: number; readonly code: number | null }> {
  const board = await makeOwnBoard(server);
  const first = await clientOf(server, board).join();
  await one.prepare?.(first);
  const frames = one.frames();
  const guest = await clientOf(server, board).join();
  const sent = await longestWait(server, async () => {
    for (const frame of frames) if (guest.closeCode === null) guest.send(frame);
    guest.mark(2);
    await Promise.race([guest.savedMark(2).catch(() => {}), guest.closed]);
  });
  const code = guest.closeCode;
  first.close();
  guest.close();
  const joined = await longestWait(server, async () => {
    (await clientOf(server, board).join()).close();
  });
  return { sent, joined, code };
}

const folder = mkdtempSync(join(tmpdir(), 'larkboard-costly-'));
const otherLimit = process.env.MAX_STEPS;
const server = await startChild({
  DATA_DIR: folder,
  MAX_NEW_PER_ADDRESS: '1000000',
  ...(otherLimit !== undefined && { MAX_STEPS: otherLimit }),
});
const load = loadavg()[0]!.toFixed(1);
const lines: string[] = [];
try {
  for (const [name, one] of Object.entries(CASES)) {
    const rounds: Awaited<ReturnType<typeof measure>>[] = [];
    for (let round = 0; round < ROUNDS; round += 1) rounds.push(await measure(server, one));
    const worst = (of: 'sent' | 'joined'): string => Math.max(...rounds.map((each) => each[of])).toFixed(0);
    const code = rounds.at(-1)!.code;
    const line = `${name}: ${worst('sent')} ms while it is sent, ${worst('joined')} ms while another comes; ${code === null ? 'taken' : `closed with ${code}`}`;
    lines.push(line);
    process.stdout.write(`${line}\n`);
  }
} finally {
  await server.stop('SIGTERM');
  rmSync(folder, { recursive: true, force: true });
}
if (otherLimit === undefined)
  writeResult('sync-costly', 'Longest waits of others for what one guest sends', [
    `the longest of ${ROUNDS} rounds, asked from another process; load of the machine as it began ${load}`,
    ...lines,
  ]);
