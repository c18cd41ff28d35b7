/** A worn document that is renewed while others write, or the store fails. */
import { expect, it } from 'vitest';
import * as Y from 'yjs';
import { Log, Metrics } from '../../../../server/index.ts';
import type { DocumentAddress } from '../../../../server/store/index.ts';
import { MemoryStore } from '../../../../server/store/memory-store.ts';
import { renew, type WornRoom } from '../../../../server/sync/renewal/generations.ts';
import { HandClock } from '../../../support/hand-clock.ts';
import { ENDED, lastDoc, stateOf } from '../../ended-design.ts';
import { FaultyStore } from '../../faulty-store.ts';
import { tieOver } from '../../worn-board.ts';

const ADDRESS: DocumentAddress = { board: 'kites', part: 'design' };

it('[V103] [V91] where rows came meanwhile, or the store fails, nothing is renewed and nobody told; the room is read anew', async () => {
  const store = new FaultyStore(new MemoryStore());
  const doc = lastDoc();
  tieOver(doc, 4_000);
  await store.addBoard({ id: 'kites', kind: 'board', createdAt: 0 }, [
    { part: 'design', bytes: stateOf(doc) },
  ]);
  const seqs = (await store.load(ADDRESS)).map(({ seq }) => seq);
  const told: number[] = [];
  const room: WornRoom = {
    address: ADDRESS,
    isDamaged: false,
    isSaved: true,
    members: { size: 0 },
    held: { bytes: stateOf(doc).length, identity: ENDED },
    doc,
    encodedState: () => stateOf(doc),
    isOutdated: false,
    peers: {
      areInUse: async () => false,
      isShared: true,
      inTime: async () => true,
      tellRenewed: (generation) => told.push(generation),
    },
    stopTaking: () => seqs,
  };
  const lines: string[] = [];
  const metrics = new Metrics();
  const log = new Log((line) => lines.push(line), new HandClock().now, 'info');
  const deps = { store, log, metrics, limits: { renewBytes: 5_000 } };
  const rows = async (): Promise<number> => (await store.inner.load(ADDRESS)).length;
  // A row of another node, which this one has not read.
  const late = await store.append(ADDRESS, Uint8Array.of(0, 0));
  expect(await renew(room, deps)).toBe(true);
  expect([await rows(), told]).toEqual([2, []]);
  expect(lines.splice(0)).toEqual([expect.stringMatching(/"renewed".*"isDone":false/)]);
  seqs.push(late);
  store.fault = { kind: 'full', when: 'before' };
  expect(await renew(room, deps)).toBe(true);
  expect([await rows(), told]).toEqual([2, []]);
  expect(lines.splice(0)).toEqual([expect.stringMatching(/"renewal-failed".*injected/)]);
  expect(metrics.valueOf('larkboard_renewals_total')).toBe(0);
  store.fault = null;
  expect(await renew(room, deps)).toBe(true);
  expect([await rows(), told, metrics.valueOf('larkboard_renewals_total')]).toEqual([1, [3], 1]);
  const renewed = new Y.Doc();
  for (const { bytes } of await store.load(ADDRESS)) Y.applyUpdate(renewed, bytes);
  expect(renewed.getMap('identity').get('name')).toMatch(/~3~/);
});
