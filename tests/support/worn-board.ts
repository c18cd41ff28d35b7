/** A board of four rows that is mostly its past, so that the server renews it. */
import { expect } from 'vitest';
import * as Y from 'yjs';
import { Design } from '../../engine/document/index.ts';
import type { KnotCode } from '../../engine/index.ts';
import { seededRandom } from '../server/chaos.ts';
import { message, RawClient } from '../server/raw-client.ts';
import type { Visitor } from './browser.ts';

/** Ties the same knots again and again, and unties them, with the maker's cookie: nothing is left of it but the board's past. */
export async function wear(maker: Visitor, http: string): Promise<void> {
  const cookies = await maker.context.cookies();
  const cookie = cookies.map(({ name, value }) => `${name}=${value}`).join('; ');
  const id = new URL(maker.page.url()).pathname.split('/').at(-1);
  const client = await new RawClient(`${http.replace('http', 'ws')}/sync/${id}/design`, {
    headers: { cookie },
  }).join();
  const before = Y.encodeStateVector(client.doc);
  let count = 0;
  const newId = (): string => `w${count++}`;
  const design = new Design(client.doc, { makerId: 'w', newId, captureMs: 0 });
  const random = seededRandom(5);
  const tie = (row: number, k: number, knot: number): void => {
    expect(design.run({ kind: 'set-knots', knots: [{ row, k, knot: knot as KnotCode }] })).toEqual({
      ok: true,
    });
  };
  for (let i = 0; i < 400; i += 1) tie(Math.floor(random() * 4), Math.floor(random() * 2), i % 5);
  for (let cell = 0; cell < 8; cell += 1) tie(cell >> 1, cell & 1, 0);
  client.send(message(0, 2, Y.encodeStateAsUpdate(client.doc, before)));
  client.mark(1);
  await client.savedMark(1);
  design.dispose();
  client.close();
}

/**
 * The same, so that the board is renewed when the last has left and pages that are there hold the history that ends then: where people are in it
 * a board is renewed once a minute at most, and this is the second time within it.
 */
export async function wearUnderPages(maker: Visitor, http: string): Promise<void> {
  const handedOver = (): Promise<number> => metricAt(http, 'larkboard_handed_over_total');
  const before = await handedOver();
  await wear(maker, http);
  await expect.poll(handedOver).toBeGreaterThan(before);
  await wear(maker, http);
}

/** What a server at this address counts under this name; 0 = nothing yet. */
export async function metricAt(http: string, name: string): Promise<number> {
  const text = await (await fetch(`${http}/metrics`)).text();
  return Number(new RegExp(`^${name} (\\S+)$`, 'm').exec(text)?.[1] ?? 0);
}
