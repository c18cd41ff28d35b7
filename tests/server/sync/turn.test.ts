import { beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { Turn } from '../../../server/sync/turn.ts';
import { HandClock } from '../../support/hand-clock.ts';

let clock: HandClock;
let turn: Turn;
/** What each turn brought: how many structs, and whose they are. */
let turns: (readonly [structs: number, author: unknown])[];

const update = (key: string): Uint8Array => {
  const doc = new Y.Doc();
  doc.getMap('words').set(key, 1);
  return Y.encodeStateAsUpdate(doc);
};

beforeEach(() => {
  clock = new HandClock();
  turns = [];
  const owner = {
    endTurn: () => {
      const { update: merged, author } = turn.end()!;
      turns.push([Y.decodeUpdate(merged).structs.length, author]);
    },
    broke: (what: string, cause: unknown) => {
      throw new Error(what, { cause });
    },
  };
  turn = new Turn(owner, clock);
});

describe('turns', () => {
  it('[V22] a lone edit ends its turn at once; what comes within 5 ms of that goes together', () => {
    turn.add(update('a'), 'ada');
    expect(turns).toEqual([[1, 'ada']]);
    turn.add(update('b'), 'ada');
    clock.turn(3);
    turn.add(update('c'), 'ada');
    clock.turn(1);
    expect(turns).toHaveLength(1);
    clock.turn(1);
    expect(turns).toEqual([
      [1, 'ada'],
      [2, 'ada'],
    ]);
    expect([turn.isEmpty, clock.waiting, turn.endedAt]).toEqual([true, 0, clock.elapsed()]);
  });

  it('[V22] edits of several people are nobody’s alone', () => {
    turn.add(update('a'), 'ada');
    for (const author of ['ada', 'bea', 'ada']) turn.add(update(author), author);
    clock.turn(5);
    expect(turns[1]).toEqual([3, null]);
  });

  it('[V22] the edits of one change wait for each other, and a turn that was stopped does not end', () => {
    turn.together(() => {
      turn.add(update('a'), 'ada');
      clock.turn(100);
      turn.add(update('b'), 'ada');
      expect(turns).toEqual([]);
    });
    clock.turn(4);
    expect(turns).toEqual([]);
    turn.stop();
    clock.turn(100);
    expect([turns, turn.isEmpty, clock.waiting]).toEqual([[], false, 0]);
    turn.add(update('c'), 'ada');
    expect(turns).toEqual([[3, 'ada']]);
  });
});
