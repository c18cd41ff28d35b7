/** What the people of a room are told when its store fails, and what becomes of the room. */
import { beforeEach, describe, expect, it } from 'vitest';
import { Log } from '../../../server/log.ts';
import { Metrics } from '../../../server/metrics.ts';
import { StoreError } from '../../../server/store/index.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { DEFAULT_SYNC_LIMITS } from '../../../server/sync/limits.ts';
import { Storing, type StoringRoom } from '../../../server/sync/storing.ts';
import { UnsavedBytes } from '../../../server/sync/unsaved.ts';
import { HandClock } from '../../support/hand-clock.ts';

let told: string[];
let storing: Storing;

beforeEach(() => {
  told = [];
  const room: StoringRoom = {
    name: 'kites/design',
    address: { board: 'kites', part: 'design' },
    generation: 1,
    held: { bytes: 0 },
    members: { notify: (code) => told.push(code), askForAll: () => told.push('all asked') },
    peers: { tellStored: (bytes) => told.push(`${bytes.length} bytes stored`) },
    encodedState: () => new Uint8Array(0),
    closeAll: (reason) => told.push(`closed: ${reason}`),
    onOutdated: () => told.push('outdated'),
    onPast: () => told.push('past'),
    broke: (what) => told.push(`broke: ${what}`),
  };
  storing = new Storing(room, {
    store: new MemoryStore(),
    clock: new HandClock(),
    log: new Log(
      (line) => told.push((JSON.parse(line) as { event: string }).event),
      () => 0,
    ),
    metrics: new Metrics(),
    unsaved: new UnsavedBytes(1_000),
    limits: DEFAULT_SYNC_LIMITS,
  });
});

describe('a room that will never be stored', () => {
  it.each([
    ['outdated', 'outdated'],
    ['unknown-board', 'closed: deleted'],
    ['unavailable', 'closed: restarted'],
  ] as const)('%s: %s', (kind, what) => {
    storing.onLost(new StoreError(kind, 'no'));
    expect(told).toEqual([what]);
  });
});

describe('people are told', () => {
  it('when too much waits for the disk, and when it may go on, then for all that was passed over', () => {
    storing.onUnsaved(true);
    expect(told.splice(0)).toEqual(['store-read-only']);
    storing.onUnsaved(false);
    expect(told).toEqual(['store-recovered', 'store-ok', 'all asked']);
  });

  it('when the store fails', () => {
    storing.onFailing(new StoreError('full', 'the disk is full'));
    expect(told).toEqual(['store-failing', 'store-read-only']);
  });
});

it('what breaks while it is stored breaks the room', () => {
  storing.broke('compact', new Error('no'));
  expect([told, storing.isIdle, storing.isFailing]).toEqual([['broke: compact'], true, false]);
});
