/** What others do to one's own work, from the edits of a board as they come. */
import { describe, expect, it } from 'vitest';
import type { Command, Design, KeyChange } from '../../../engine/document/index.ts';
import { becomeCommand, readKeyed, watchEdits } from '../../../engine/document/index.ts';
import { Subject } from '../../../web/context/index.ts';
import { LostWork } from '../../../web/notices/lost-work.ts';
import { ToldAlready } from '../../../web/notices/told-already.ts';
import type { PersonHere } from '../../../web/sync/index.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { MapShelf, storageOf } from '../../support/map-shelf.ts';
import { joinDesign, openDesign, rowsOf, runAll, syncAll } from '../../support/open-design.ts';

const tie = (row: number, k: number, knot: 0 | 1 | 2 | 3 | 4): Command => ({
  kind: 'set-knots',
  knots: [{ row, k, knot }],
});

const here = (design: Design, id: string, name: string, self = false): PersonHere => ({
  clientId: design.doc.clientID,
  self,
  presence: { person: { id, name, hex: '#112233' }, cursor: null, selection: null, view: null },
});

/** Mia's page, with Tom beside her. */
function mia(
  earlier: readonly (readonly KeyChange[])[] = [],
  design = openDesign(),
  isConnected = true,
  shelf = storageOf(new MapShelf()),
) {
  const tom = joinDesign(design, 'tom');
  const clock = new HandClock();
  const people = new Subject<readonly PersonHere[]>([
    here(design, 'mia', 'Mia', true),
    here(tom, 'tom', 'Tom'),
  ]);
  const listeners = new Set<() => void>();
  const session = {
    design,
    people,
    isConnected,
    subscribe: (listener: () => void) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
  const told = new ToldAlready(shelf, 'board', 'mia');
  const work = new LostWork(session, { me: 'mia', told, after: clock.after, elapsed: clock.elapsed });
  work.begin(earlier);
  const connect = (): void => {
    session.isConnected = true;
    for (const listener of [...listeners]) listener();
  };
  const said = (): string | null => {
    const notice = work.notice.value;
    return notice === null
      ? null
      : `${notice.who.name || '?'} ${notice.lost.map(({ kind }) => kind).join(' ')}`;
  };
  return { design, tom, clock, people, session, work, connect, said, sync: () => syncAll(design, tom) };
}

describe('lost work', () => {
  it('[W980] [W983] is told with who, and putting it back is one step of undo', () => {
    const { design, tom, clock, work, said, sync } = mia();
    runAll(design, tie(0, 0, 2), tie(1, 0, 3));
    sync();
    const was = rowsOf(design);
    runAll(tom, tie(0, 0, 4), tie(1, 0, 4), tie(3, 0, 1));
    sync();
    expect(said()).toBeNull();
    clock.turn(2_000);
    expect(said()).toBe('Tom knot knot');
    const notice = work.notice.value!;
    expect(work.canPutBack(notice)).toBe(true);
    const before = rowsOf(design);
    expect(work.putBack(notice)).toEqual({ kept: 0 });
    expect([rowsOf(design).slice(0, 2), said()]).toEqual([was.slice(0, 2), null]);
    design.undo();
    expect(rowsOf(design)).toEqual(before);
    work.dispose();
  });

  it.each([true, false])(
    '[W927] what was done and overwritten before this was there is told with who it was; kept by then: %s',
    (isKept) => {
      const design = openDesign();
      const early = joinDesign(design, 'tom');
      runAll(design, tie(0, 0, 2), tie(1, 0, 3));
      syncAll(design, early);
      const did = design.unkeptEdits.map(({ changes }) => changes);
      expect(did).toHaveLength(2);
      runAll(early, tie(0, 0, 4));
      syncAll(design, early);
      // What the browser keeps of it is read as one's own of earlier.
      if (isKept) design.recallSteps([], { added: () => {}, dropped: () => {} }, () => false);
      expect(design.unkeptEdits).toHaveLength(isKept ? 0 : 2);
      const { clock, people, said } = mia(isKept ? did : [], design);
      people.set([...people.value, here(early, 'tom', 'Tom')]);
      clock.turn(2_000);
      expect(said()).toBe('Tom knot');
    },
  );

  it('[W927] what another tab of one’s own wrote over before this was there is no loss', () => {
    const design = openDesign();
    const tab = joinDesign(design, 'mia');
    runAll(design, tie(0, 0, 2));
    syncAll(design, tab);
    runAll(tab, tie(0, 0, 4));
    syncAll(design, tab);
    const { clock, people, said, connect } = mia([], design, false);
    people.set([...people.value, here(tab, 'mia', 'Mia')]);
    connect();
    clock.turn(60_000);
    expect(said()).toBeNull();
  });

  it('[W982] what was only taken away is theirs who alone is here; with several it is somebody’s', () => {
    const { design, tom, clock, people, work, said, sync } = mia();
    runAll(design, tie(0, 0, 2), tie(2, 0, 4));
    sync();
    runAll(tom, { kind: 'delete-row-pairs', from: 0, count: 1 });
    sync();
    clock.turn(2_000);
    expect(said()).toBe('Tom knot');
    work.close();
    people.set([...people.value, here(openDesign(), 'ina', 'Ina')]);
    runAll(tom, { kind: 'delete-row-pairs', from: 0, count: 1 });
    sync();
    clock.turn(30_000);
    expect(said()).toBe('? knot');
  });

  it('[W986] another tab of the same person is no other: what is written there is one’s own', () => {
    const { design, tom, clock, people, said, sync } = mia();
    const tab = joinDesign(design, 'mia');
    people.set([...people.value, here(tab, 'mia', 'Mia')]);
    runAll(design, tie(0, 0, 2));
    syncAll(design, tab);
    runAll(tab, tie(0, 0, 3), tie(1, 0, 3));
    syncAll(design, tab);
    clock.turn(60_000);
    expect(said()).toBeNull();
    sync();
    runAll(tom, tie(1, 0, 4));
    sync();
    clock.turn(2_000);
    expect(said()).toBe('Tom knot');
  });

  it('[W986] of the visit before is told what is otherwise now, once the server has answered', () => {
    const before = openDesign();
    const earlier: (readonly KeyChange[])[] = [];
    watchEdits(before.doc, { onOwn: (changes) => earlier.push(changes), onOthers: () => {} });
    runAll(before, tie(0, 0, 2), tie(1, 0, 3), { kind: 'set-title', title: 'Kites' });
    const others = joinDesign(before, 'ina');
    runAll(others, tie(0, 0, 4), { kind: 'set-title', title: 'Tails' });
    syncAll(before, others);
    const shelf = storageOf(new MapShelf());
    const { clock, said, connect } = mia(earlier, joinDesign(others, 'mia'), false, shelf);
    clock.turn(60_000);
    expect(said()).toBeNull();
    connect();
    clock.turn(2_000);
    expect(said()).toBe('? knot text');
    connect();
    clock.turn(60_000);
    expect(said()).toBe('? knot text');
    // In the next page it was told already; what she writes there anew is hers to be told of again.
    const again = mia(earlier, joinDesign(others, 'mia'), true, shelf);
    again.clock.turn(60_000);
    expect(again.said()).toBeNull();
    runAll(again.design, { kind: 'set-title', title: 'Kites' });
    const last = mia(earlier, joinDesign(others, 'mia'), true, shelf);
    last.clock.turn(60_000);
    expect(last.said()).toBe('? text');
  });

  it('[W986] what comes before it is known what is one’s own from earlier is heard in its turn', () => {
    const { design, tom, clock, session, sync } = mia();
    const work = new LostWork(session, { me: 'mia', after: clock.after, elapsed: clock.elapsed });
    runAll(design, tie(0, 0, 2));
    sync();
    runAll(tom, tie(0, 0, 4));
    sync();
    work.begin();
    work.begin([[{ root: 'knots', key: 'other', before: 0, after: 1 }]]);
    clock.turn(2_000);
    expect(work.notice.value?.lost.map(({ kind }) => kind)).toEqual(['knot']);
  });

  it('[W986] what did not stand on coming back from offline is told, with who as soon as they are heard of', () => {
    const { design, tom, clock, people, said, sync } = mia([], openDesign());
    people.set([people.value[0]!]);
    runAll(design, tie(0, 0, 2));
    runAll(tom, tie(0, 0, 4));
    sync();
    // Of two who tied the same apart one stands: who wrote later in the order of Yjs, the higher client.
    const isLost = tom.doc.clientID > design.doc.clientID;
    expect(isLost).toBe(true);
    people.set([...people.value, here(tom, 'tom', 'Tom')]);
    clock.turn(2_000);
    expect(said()).toBe('Tom knot');
  });

  it('[W980] [W983] is told knot by knot, too, where another brought a whole state back at once', () => {
    const { design, tom, clock, work, said, sync } = mia();
    const former = readKeyed(tom.doc)!;
    runAll(design, tie(0, 0, 2), tie(1, 0, 3));
    sync();
    const was = rowsOf(design);
    runAll(tom, becomeCommand(former, 0));
    sync();
    expect(rowsOf(design)).not.toEqual(was);
    clock.turn(2_000);
    expect(said()).toBe('Tom knot knot');
    expect(work.putBack(work.notice.value!)).toEqual({ kept: 0 });
    expect(rowsOf(design)).toEqual(was);
  });

  it('[W984] is not told while a lesson is followed', () => {
    const { design, tom, clock, work, said, sync } = mia();
    work.isInLesson = true;
    runAll(design, tie(0, 0, 2));
    sync();
    runAll(tom, tie(0, 0, 4));
    sync();
    clock.turn(60_000);
    work.isInLesson = false;
    clock.turn(60_000);
    expect(said()).toBeNull();
  });

  it('[W983] of which nothing can be put back is told so', () => {
    const { design, tom, clock, work, said, sync } = mia();
    runAll(design, tie(0, 0, 2));
    sync();
    runAll(tom, { kind: 'replace-pattern', pattern: tom.snapshot.board.pattern });
    sync();
    clock.turn(2_000);
    expect(said()).toBe('Tom knot');
    const notice = work.notice.value!;
    expect([work.canPutBack(notice), work.putBack(notice)]).toEqual([false, null]);
  });
});
