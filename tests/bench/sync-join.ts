/** A worn document, and how long newcomers wait for it. */
import WebSocket from 'ws';
import * as Y from 'yjs';
import { compactDesign, Design, FOLLOWS_RENEWALS, writeBoard } from '../../engine/document/index.ts';
import { blankBoard } from '../../server/boards/blank-board.ts';
import { seededRandom } from '../server/chaos.ts';
import { type Heard, message, RawClient } from '../server/raw-client.ts';
import { type BenchServer, isOurs } from './sync-servers.ts';

export interface WornDocument {
  /** After the overwrites. */
  readonly worn: Uint8Array;
  /** The same board without its past. */
  readonly fresh: Uint8Array;
}

/** A board of 60 strings and 200 rows, 6,000 knots, knots of which were tied anew `overwrites` times. */
export function wornDocument(overwrites: number): WornDocument {
  const random = seededRandom(7);
  let count = 0;
  const newId = (): string => {
    count += 1;
    return `w${count}`;
  };
  const doc = new Y.Doc();
  writeBoard(doc, blankBoard(60, 200, 'worn'), newId);
  const design = new Design(doc, { makerId: 'bench', newId, captureMs: 0 });
  for (let i = 0; i < overwrites; i += 1) {
    const row = Math.floor(random() * 200);
    const k = Math.floor(random() * 29);
    const knot = (1 + Math.floor(random() * 4)) as 1 | 2 | 3 | 4;
    design.run({ kind: 'set-knots', knots: [{ row, k, knot }] });
  }
  design.dispose();
  const fresh = compactDesign(doc);
  if (fresh === null) throw new Error('the worn document holds no board');
  return { worn: Y.encodeStateAsUpdate(doc), fresh: Y.encodeStateAsUpdate(fresh) };
}

/** A document is one message, of half a megabyte where it is worn. */
const OPTIONS = { perMessageDeflate: false, maxPayload: 1e9 };

/**
 * Brings the document into a room and stays, so that the room stays open; ours renews it, and hands over whoever brought it. A room that holds a board of its own gets the
 * document's generation set once more on top: of two boards that know nothing of each other either could win.
 */
export async function bringDocument(
  server: BenchServer,
  url: string,
  update: Uint8Array,
): Promise<WebSocket> {
  // As a page does: it is handed over when the document is renewed, and stays.
  const client = new RawClient(
    isOurs(server.name) ? `${url}?${new URLSearchParams(FOLLOWS_RENEWALS)}` : url,
    OPTIONS,
  );
  client.answers = false;
  await client.join();
  if (update.length <= EMPTY_UPDATE_BYTES) return client.socket;
  const own = new Y.Doc();
  Y.applyUpdate(own, update);
  Y.applyUpdate(client.doc, update);
  client.doc.getMap('meta').set('generation', own.getMap('meta').get('generation'));
  client.send(message(0, 2, Y.encodeStateAsUpdate(client.doc)));
  await client.reached();
  await server.untilStored();
  // Who joins from now on gets what follows.
  if (server.name === 'ours') await client.waitFor(({ kind }) => kind === 'renewed');
  return client.socket;
}

/** An update without content, as Yjs encodes it. */
const EMPTY_UPDATE_BYTES = 2;

export interface JoinResult {
  readonly ms: number;
  readonly bytes: number;
}

/** A document of so many bytes holds the 6,000 knots; one without them has a few hundred. */
const WHOLE_BYTES = 5_000;

const isPart = ({ kind }: Heard): boolean => kind === 'step2' || kind === 'update';

/** How many frames of the document a newcomer gets; the last of them is the answer to their question. */
async function framesNeeded(url: string): Promise<number> {
  const client = new RawClient(url, OPTIONS);
  client.answers = false;
  await client.join();
  client.close();
  const held = Y.encodeStateAsUpdate(client.doc).length;
  if (held < WHOLE_BYTES) throw new Error(`${url} has ${held} bytes only`);
  return client.heard.filter(isPart).length;
}

function joinOnce(url: string, frames: number): Promise<JoinResult> {
  return new Promise((resolve, reject) => {
    const began = performance.now();
    let bytes = 0;
    let left = frames;
    const socket = new WebSocket(url, OPTIONS);
    socket.binaryType = 'nodebuffer';
    socket.once('error', reject);
    socket.once('open', () => socket.send(message(0, 0, new Uint8Array([0]))));
    socket.on('message', (data: Buffer) => {
      bytes += data.length;
      // A sync message that is not a question brings a part of the document.
      if (data[0] === 0 && data[1] !== 0) left -= 1;
      if (left > 0) return;
      resolve({ ms: performance.now() - began, bytes });
      socket.terminate();
    });
  });
}

/**
 * One newcomer after the other, the middle time; then `crowd` at once, the time until the last has the document.
 * @param staying sockets that stay in the room meanwhile
 */
export async function timeJoins(
  server: BenchServer,
  url: string,
  staying: number,
  crowd: number,
  crowds: number,
): Promise<{ readonly one: JoinResult; readonly crowdMs: number }> {
  const frames = await framesNeeded(url);
  const singles: JoinResult[] = [];
  for (let i = 0; i < 25; i += 1) singles.push(await joinOnce(url, frames));
  singles.sort((a, b) => a.ms - b.ms);
  const crowdMs: number[] = [];
  for (let i = 0; i < crowds; i += 1) {
    await server.untilLeft(staying);
    const began = performance.now();
    await Promise.all(Array.from({ length: crowd }, () => joinOnce(url, frames)));
    crowdMs.push(performance.now() - began);
  }
  crowdMs.sort((a, b) => a - b);
  return { one: singles[12]!, crowdMs: crowdMs[crowds >> 1]! };
}
