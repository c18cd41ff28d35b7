/** One open board: where it comes from, who is there, and where what is edited stays when the server or another tab takes a copy away. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import {
  type Design,
  encodeRenewed,
  LATER_COMMANDS,
  loadBoard,
  readDesign,
  writeBoard,
} from '../../../engine/document/index.ts';
import { registerParts } from '../../../web/parts/index.ts';
import { BoardSession, type SessionOptions } from '../../../web/sync/board-session.ts';
import {
  asideNames,
  deleteCopy,
  emptyCopy,
  loadCopy,
  localName,
  putAside,
} from '../../../web/sync/copies.ts';
import { keptNames, refuseDatabases, stubBrowser } from '../../support/fresh-browser.ts';
import type { MemoryRoom, MemoryRooms } from '../../support/memory-rooms.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';

/** Another for each test: what a page of the test before does late, as emptying a former copy, comes to nothing here. */
let board = '';
let copyName = '';
let boards = 0;
let isPartMissing = false;
registerParts({
  renewal: {
    file: () =>
      isPartMissing
        ? Promise.reject(new TypeError('no net'))
        : import('../../../web/sync/next-generation.ts'),
  },
});
const WREN = { id: 'wren', name: 'Wren', hex: '#b3541e', isNamed: true };
const FINCH = { id: 'finch', name: 'Finch', hex: '#2f6f73', isNamed: true };

let rooms: MemoryRooms;
let room: MemoryRoom;
const sessions: BoardSession[] = [];

beforeEach(() => {
  boards += 1;
  board = `kites-${boards}`;
  copyName = localName(board);
  rooms = stubBrowser();
  room = rooms.room(`${board}/design`);
  writeBoard(room.doc, sampleBoard(), countingIds('w'));
});
afterEach(async () => {
  for (const session of sessions.splice(0)) session.dispose();
  await turnsOfTheLoop(3);
  vi.unstubAllGlobals();
});

function sessionOf(more: Partial<SessionOptions> = {}): BoardSession {
  const session = new BoardSession({
    boardId: board,
    canEdit: true,
    person: WREN,
    server: 'ws://boards.example',
    ...more,
  });
  // As what shows a title does.
  session.design.giveCommands(LATER_COMMANDS);
  sessions.push(session);
  return session;
}

async function opened(more: Partial<SessionOptions> = {}): Promise<BoardSession> {
  const session = sessionOf(more);
  await until('the board is saved', () => session.saved === 'saved');
  return session;
}

/** One that has been left; what it kept is written by then. */
async function left(session: BoardSession): Promise<void> {
  sessions.splice(sessions.indexOf(session), 1);
  session.dispose();
  await turnsOfTheLoop(3);
}

const name = ({ design }: { readonly design: Design }, title: string): void =>
  expect(design.run({ kind: 'set-title', title })).toEqual({ ok: true });
const titleAt = ({ design }: { readonly design: Design }): string => design.snapshot.board.title;
const titleOf = (doc: Y.Doc): string => readDesign(doc).board.title;
const keptTitle = async (of: string): Promise<string> => titleOf(await loadCopy(of));

describe('opening a board', () => {
  it('it comes from the server, and is kept here', async () => {
    const session = sessionOf();
    let told = 0;
    const stop = session.subscribe(() => {
      told += 1;
    });
    expect([session.isOpen, session.isConnected, session.saved]).toEqual([false, false, 'offline']);
    await until('it is there', () => session.saved === 'saved');
    expect([session.isOpen, session.isConnected, titleAt(session)]).toEqual([true, true, 'Test input']);
    expect(told).toBeGreaterThan(0);
    stop();
    const before = told;
    name(session, 'Kites');
    await until('it is saved', () => session.saved === 'saved');
    expect(told).toBe(before);
    expect(titleOf(room.doc)).toBe('Kites');
    await left(session);
    expect(await keptTitle(copyName)).toBe('Kites');
  });

  it('without the server it comes from here; what is edited is kept, and goes out when the server is back', async () => {
    await left(await opened());
    rooms.cut();
    const away = sessionOf();
    await until('it is there', () => away.isOpen);
    name(away, 'Edited on the ferry');
    expect([away.saved, away.closeReason]).toEqual(['offline', null]);
    await left(away);
    rooms.isDown = false;
    const back = await opened();
    expect(titleAt(back)).toBe('Edited on the ferry');
    expect(titleOf(room.doc)).toBe('Edited on the ferry');
  });

  it('why the server closes is handed on', async () => {
    const session = await opened();
    room.close('revoked');
    expect([session.closeReason, session.isConnected]).toEqual(['revoked', false]);
  });

  it('whether another copy holds more is found without taking it in', async () => {
    const session = await opened();
    const copy = new Y.Doc();
    Y.applyUpdate(copy, Y.encodeStateAsUpdate(room.doc));
    expect(session.holds(copy)).toBe(true);
    copy.getMap('more').set('a', 1);
    expect(session.holds(copy)).toBe(false);
    expect(session.holds(copy)).toBe(false);
  });
});

describe('who is there', () => {
  it('is oneself alone, and nobody hears of it, until the company is joined', async () => {
    const session = await opened();
    session.introduce({ ...WREN, name: 'Ida' });
    session.hearOf([{ id: 'x', name: 'Ida' }]);
    expect(session.people.value.map(({ self, presence }) => [self, presence.person.name])).toEqual([
      [true, 'Wren'],
    ]);
    expect(session.presence.person.name).toBe('Ida');
    expect(session.provider.awareness.getLocalState()).toBeNull();
    expect(session.isNameTaken('Ida')).toBe(false);
  });
});

describe('when this browser keeps nothing', () => {
  it('[B150] edits reach the server, and without it the page says that nobody keeps them', async () => {
    refuseDatabases();
    const session = await opened();
    name(session, 'Kites');
    expect(session.saved).toBe('saving');
    await until('it is saved', () => session.saved === 'saved');
    expect(titleOf(room.doc)).toBe('Kites');
    rooms.cut();
    expect(session.saved).toBe('unkept');
  });

  it('[B150] nor does it once the copy was taken away and there was more to keep', async () => {
    const session = await opened({ canEdit: false });
    await deleteCopy(copyName);
    rooms.cut();
    expect(session.saved).toBe('offline');
    rooms.isDown = false;
    await until('it is back', () => session.isConnected);
    writeBoard(room.doc, { ...sampleBoard(), title: 'Kites' }, countingIds('v'));
    await until('it is shown', () => titleAt(session) === 'Kites');
    rooms.cut();
    expect(session.saved).toBe('unkept');
    // There is nothing to drop.
    await session.forgetLocal();
    expect(await keptNames()).toEqual([]);
  });
});

describe('when another tab takes the copy', () => {
  it('[B181] what this tab holds is put aside, and what it edits is kept there', async () => {
    const session = await opened();
    rooms.cut();
    name(session, 'Edited away');
    // The other tab has not got that edit, so the shared copy stays as well.
    expect(await emptyCopy(copyName, new Y.Doc())).toBe(false);
    await until('it is put aside', async () => (await asideNames(board)).length === 1);
    await turnsOfTheLoop(5);
    name(session, 'Edited later');
    await left(session);
    const [aside] = await asideNames(board);
    expect(await keptTitle(aside!)).toBe('Edited later');
    expect(await keptTitle(copyName)).toBe('Edited away');
  });

  it('[B181] what was put aside goes when this tab closes with all of it saved', async () => {
    const session = await opened();
    await deleteCopy(copyName);
    await until('it is put aside', async () => (await asideNames(board)).length === 1);
    await turnsOfTheLoop(5);
    name(session, 'Edited later');
    await until('it is saved', () => session.saved === 'saved');
    await left(session);
    await until('it is gone', async () => (await keptNames()).length === 0);
  });

  it('[B181] who may only look puts nothing aside', async () => {
    const session = await opened({ canEdit: false });
    await deleteCopy(copyName);
    await turnsOfTheLoop(5);
    await left(session);
    expect(await keptNames()).toEqual([]);
  });
});

describe('when the board is renewed while it is open', () => {
  it('[W1043] the session goes on in the next generation with what is in hand, its people and its socket', async () => {
    const [wren, finch] = [await opened(), await opened({ person: FINCH })];
    const { design, people } = wren;
    const states: string[] = [];
    wren.subscribe(() => states.push(wren.saved));
    const { visits } = room;
    room.isStoring = false;
    name(wren, 'In hand');
    room.renew();
    await turnsOfTheLoop(5);
    expect(wren.saved).toBe('saving');
    room.isStoring = true;
    await until('it is saved', () => wren.saved === 'saved');
    expect([titleOf(room.doc), titleAt(wren)]).toEqual(['In hand', 'In hand']);
    await until('the other has it', () => titleAt(finch) === 'In hand');
    name(finch, 'Later');
    await until('so it is the other way', () => titleAt(wren) === 'Later');
    expect(states).not.toContain('offline');
    expect([room.visits, wren.design === design, wren.people === people]).toEqual([visits, true, true]);
  });

  it('[W1044] what is kept here is of one generation each; the former goes once all of it is saved', async () => {
    const session = await opened();
    room.isStoring = false;
    name(session, 'In hand');
    await until('the room has it', () => titleOf(room.doc) === 'In hand');
    await expect.poll(() => keptTitle(copyName)).toBe('In hand');
    room.renew();
    const renewed = `${copyName}.~2~memory`;
    await expect.poll(async () => [...(await keptNames())].sort()).toEqual([copyName, renewed]);
    await expect
      .poll(async () => [await keptTitle(copyName), await keptTitle(renewed)])
      .toEqual(['In hand', 'In hand']);
    room.isStoring = true;
    await until('the former is gone', async () => (await keptNames()).join() === renewed);
    rooms.cut();
    name(session, 'On the ferry');
    await left(session);
    const away = sessionOf();
    await until('it is there', () => titleAt(away) === 'On the ferry');
    expect(await away.asideNames()).toEqual([]);
    await left(away);
    rooms.isDown = false;
    await opened();
    expect(titleOf(room.doc)).toBe('On the ferry');
  });

  it('[W1044] tabs that were handed over share what they keep, and what another keeps of the former one stays', async () => {
    const [here, there] = [await opened(), await opened()];
    rooms.cut();
    name(there, 'Not sent');
    await left(there);
    rooms.isDown = false;
    await until('it is back', () => here.isConnected && here.saved === 'saved');
    room.renew();
    await turnsOfTheLoop(10);
    const again = sessionOf();
    await until('it is there', () => again.isOpen);
    expect(titleAt(again)).toBe('Test input');
    expect(await again.asideNames()).toEqual([copyName]);
    expect(await keptTitle(copyName)).toBe('Not sent');
  });

  it('[W1044] who may do less from now on has it all put aside', async () => {
    await left(await opened());
    const session = await opened();
    room.renew();
    await turnsOfTheLoop(10);
    await left(session);
    await putAside(board);
    const looking = sessionOf({ canEdit: false });
    expect((await looking.asideNames()).length).toBeGreaterThan(0);
    expect((await looking.asideNames()).some((one) => one.includes('~'))).toBe(false);
  });

  it('[W1043] what cannot be put on the next generation is brought over by the server, by a line of its own', async () => {
    const session = await opened();
    room.isStoring = false;
    name(session, 'In hand');
    await turnsOfTheLoop(3);
    const { visits } = room;
    room.tell(encodeRenewed(Y.encodeStateAsUpdate(new Y.Doc())));
    await until('it has come again', () => room.visits === visits + 1);
    expect(titleAt(session)).toBe('In hand');
  });

  it('[W1043] what the server says while it is fetched how to go over waits; where that cannot be had the server brings over what is in hand', async () => {
    const [wren, finch] = [await opened(), await opened({ person: FINCH })];
    room.renew();
    name(finch, 'At once');
    await until('both have it', () => titleAt(wren) === 'At once' && titleOf(room.doc) === 'At once');
    isPartMissing = true;
    vi.stubGlobal('fetch', () => Promise.reject(new TypeError('no net')));
    vi.stubGlobal('document', { querySelector: () => null });
    const { visits } = room;
    room.tell(encodeRenewed(Y.encodeStateAsUpdate(room.doc)));
    await until('both have come again', () => room.visits === visits + 2);
    isPartMissing = false;
  });

  it('[W1043] a sketch that begins afterwards comes to nobody', async () => {
    const session = await opened({ isSketch: true });
    room.renew();
    await turnsOfTheLoop(5);
    name(session, 'My own');
    await turnsOfTheLoop(3);
    expect([session.isSketched, titleOf(room.doc)]).toEqual([true, 'Test input']);
  });
});

describe('forgetting a board', () => {
  it('[B180] drops the copy, but for what another tab wrote there', async () => {
    const session = await opened();
    await session.forgetLocal();
    expect(await keptNames()).toEqual([]);
    await left(session);
    const again = await opened();
    const other = await opened();
    rooms.cut();
    name(other, 'Edited in the other tab');
    await left(other);
    await again.forgetLocal();
    expect(await keptTitle(copyName)).toBe('Edited in the other tab');
  });

  it('what the browser does not open any more stays, and does not keep anybody from leaving', async () => {
    await left(await opened());
    refuseDatabases();
    const session = await opened();
    await session.forgetLocal();
    expect(await keptNames()).toEqual([copyName]);
  });
});

describe('a board to sketch on', () => {
  it('[B9] at the first edit server and copy are let go, and neither has it', async () => {
    const session = await opened({ isSketch: true });
    room.doc.transact(() => room.doc.getMap('others').set('a', 1));
    await turnsOfTheLoop(3);
    expect(session.isSketched).toBe(false);
    name(session, 'My own');
    name(session, 'My very own');
    await turnsOfTheLoop(3);
    expect([session.isSketched, session.isConnected, titleAt(session)]).toEqual([true, false, 'My very own']);
    expect(titleOf(room.doc)).toBe('Test input');
    expect(await keptTitle(copyName)).toBe('Test input');
    expect(room.sockets.size).toBe(0);
    expect(room.marks).toBe(0);
  });

  it.each([
    ['the copy was read', false],
    ['the browser said that it keeps none', true],
  ])('[B9] edited before %s, it never comes to the server', async (_before, isRefused) => {
    await left(await opened());
    if (isRefused) refuseDatabases();
    const before = room.visits;
    const session = sessionOf({ isSketch: true });
    session.design.run(loadBoard(sampleBoard()));
    await turnsOfTheLoop(10);
    expect([session.isSketched, room.visits]).toEqual([true, before]);
  });

  it('[B9] another tab that takes the copy leaves nothing put aside', async () => {
    await opened({ isSketch: true });
    await deleteCopy(copyName);
    await turnsOfTheLoop(5);
    expect(await keptNames()).toEqual([]);
  });
});
