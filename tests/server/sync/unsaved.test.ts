/** Rooms that stop taking edits while too much of them is not on the disk, and when they go on. */
import { beforeEach, describe, expect, it } from 'vitest';
import { Log } from '../../../server/index.ts';
import { UnsavedBytes, UnsavedShare } from '../../../server/sync/unsaved.ts';

/** Of one room, and of all together. */
const [MOST, MOST_IN_ALL] = [100, 200];

let unsaved: UnsavedBytes;
let told: string[];
let warnings: string[];

beforeEach(() => {
  unsaved = new UnsavedBytes(MOST_IN_ALL);
  told = [];
  warnings = [];
});

function open(name: string): UnsavedShare {
  const log = new Log(
    (line) => warnings.push(line),
    () => 0,
    'warn',
  );
  return new UnsavedShare(
    { unsaved, limits: { unsavedBytes: MOST }, log },
    { name, onUnsaved: (isFull) => told.push(`${name} ${isFull ? 'stops' : 'goes on'}`) },
  );
}

/** Takes an edit, which then waits for the disk. */
function take(room: UnsavedShare, bytes: number): boolean {
  const isTaken = room.mayTake(bytes);
  if (isTaken) room.add(bytes);
  return isTaken;
}

describe('a room that the disk is behind', () => {
  it('[V263] takes no edit beyond its bound, says so once, and goes on when half of it is stored', () => {
    const kites = open('kites');
    expect([take(kites, 60), take(kites, 40), take(kites, 1), take(kites, 1)]).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect([told, kites.isFull]).toEqual([['kites stops'], true]);
    expect(JSON.parse(warnings.join())).toMatchObject({
      event: 'store-behind',
      room: 'kites',
      unsavedBytes: 100,
    });
    kites.add(-50);
    expect(told).toEqual(['kites stops']);
    kites.add(-1);
    expect([told, kites.isFull]).toEqual([['kites stops', 'kites goes on'], false]);
    kites.add(-49);
    expect([told.length, unsaved.bytes]).toEqual([2, 0]);
  });

  it('[V263] takes one edit that is larger than any bound where nothing else waits: else it could never come', () => {
    const kites = open('kites');
    expect(take(kites, MOST_IN_ALL + 1)).toBe(true);
    expect(take(kites, 1)).toBe(false);
    // While that is on its way nobody else begins.
    expect(take(open('boats'), 1)).toBe(false);
    expect(told).toEqual(['kites stops', 'boats stops']);
  });

  it('[V263] waits for the others where all together are too much, and is told when they have come down', () => {
    const [kites, boats, reeds] = [open('kites'), open('boats'), open('reeds')];
    expect([take(kites, 90), take(boats, 90), take(reeds, 21)]).toEqual([true, true, false]);
    expect(told).toEqual(['reeds stops']);
    // Nothing of its own waits, and it is not yet its turn.
    reeds.onLess();
    kites.add(-70);
    expect([unsaved.isLow, reeds.isFull]).toEqual([false, true]);
    boats.add(-10);
    expect([unsaved.isLow, told]).toEqual([true, ['reeds stops', 'reeds goes on']]);
    expect(take(reeds, 21)).toBe(true);
  });

  it('[V263] does not go on because the others have, while too much of its own waits', () => {
    const [kites, boats] = [open('kites'), open('boats')];
    expect([take(kites, 70), take(boats, 100), take(kites, 31)]).toEqual([true, true, false]);
    boats.add(-100);
    expect([unsaved.isLow, told]).toEqual([true, ['kites stops']]);
    kites.add(-21);
    expect(told).toEqual(['kites stops', 'kites goes on']);
    // Who has gone on is not told again.
    kites.onLess();
    expect(told).toHaveLength(2);
  });

  it('[V263] takes none of the server’s own either, and says why', () => {
    const kites = open('kites');
    kites.requireRoom();
    take(kites, MOST + 1);
    expect(() => kites.requireRoom()).toThrow(
      expect.objectContaining({ kind: 'unavailable', message: 'too much waits for the disk' }),
    );
    // The room was opened anew: the next edit shows whether it is too early.
    kites.reopen();
    expect(kites.isFull).toBe(false);
    expect([take(kites, 1), kites.isFull]).toEqual([false, true]);
  });
});
