/** The talk as a page reads it: what it shows before the server answers, what counts as news, and when it comes back. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { type CloseReason, Talk } from '../../../engine/document/index.ts';
import { TalkSession } from '../../../web/sync/talk-session.ts';
import { keptNames, refuseDatabases, stubBrowser } from '../../support/fresh-browser.ts';
import type { MemoryRoom, MemoryRooms } from '../../support/memory-rooms.ts';
import { countingIds } from '../../support/sample-board.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';

let rooms: MemoryRooms;
let room: MemoryRoom;
let talk: Talk;
const sessions: TalkSession[] = [];

beforeEach(() => {
  rooms = stubBrowser();
  room = rooms.room('kites/talk');
  talk = new Talk(room.doc, {
    person: { id: 'finch', name: 'Finch', hex: '#2f6f73' },
    newId: countingIds('r'),
    now: () => 1_800_000_000_000,
  });
});
afterEach(async () => {
  for (const session of sessions.splice(0)) session.dispose();
  await turnsOfTheLoop(3);
  vi.unstubAllGlobals();
});

const say = (text: string): void =>
  expect(talk.run({ kind: 'open-thread', pin: { kind: 'board' }, text })).toMatchObject({ ok: true });

function sessionOf(): TalkSession {
  const session = new TalkSession('ws://boards.example', 'kites');
  sessions.push(session);
  return session;
}
const said = ({ snapshot }: TalkSession): (string | null)[] =>
  snapshot.threads.flatMap(({ remarks }) => remarks.map(({ text }) => text));

async function opened(): Promise<TalkSession> {
  const session = sessionOf();
  await until('the server has told all', () => session.hasSynced);
  return session;
}

it('what was said before is no news, and what is said from then on is told', async () => {
  say('A tighter fringe?');
  const session = sessionOf();
  const news: boolean[] = [];
  const stop = session.subscribe(() => news.push(session.hasSynced));
  expect([said(session), session.hasSynced, session.isConnected]).toEqual([[], false, false]);
  await until('the server has told all', () => session.hasSynced);
  expect([said(session), session.isConnected]).toEqual([['A tighter fringe?'], true]);
  expect(news[0]).toBe(false);
  say('Yes.');
  await until('it is here', () => said(session).includes('Yes.'));
  expect(news.at(-1)).toBe(true);
  const before = news.length;
  stop();
  say('Done.');
  await until('it is here', () => said(session).includes('Done.'));
  expect(news).toHaveLength(before);
});

it('without the server what was kept is shown, and what was said meanwhile comes when it is back', async () => {
  say('A tighter fringe?');
  const before = await opened();
  sessions.pop();
  before.dispose();
  await turnsOfTheLoop(3);
  rooms.cut();
  const session = sessionOf();
  await until('it is shown', () => said(session).length === 1);
  expect([session.hasSynced, session.isConnected]).toEqual([false, false]);
  say('Yes.');
  rooms.isDown = false;
  await until('it is back', () => session.isConnected);
  expect(said(session)).toEqual(['A tighter fringe?', 'Yes.']);
});

it('once told all, it stays so while the line is broken', async () => {
  const session = await opened();
  rooms.cut();
  expect([session.hasSynced, session.isConnected]).toEqual([true, false]);
});

it.each<[CloseReason, boolean]>([
  ['revoked', false],
  ['outdated', false],
  ['roleChanged', false],
  ['unknownBoard', false],
  ['restarted', true],
])('closed as %s, it comes back: %s', async (reason, comesBack) => {
  const session = await opened();
  room.close(reason);
  expect(session.isConnected).toBe(false);
  // Another session of the same browser closed for a reason that passes has had its turn by then.
  const other = await opened();
  room.close('restarted');
  await until('the other is back', () => other.isConnected);
  expect([session.isConnected, room.sockets.size]).toEqual([comesBack, comesBack ? 2 : 1]);
});

it('[B150] where the browser keeps nothing, the talk is that of the server', async () => {
  refuseDatabases();
  say('A tighter fringe?');
  expect(said(await opened())).toEqual(['A tighter fringe?']);
});

it('forgotten, nothing of it stays in this browser', async () => {
  say('A tighter fringe?');
  const session = await opened();
  expect(await keptNames()).toEqual(['larkboard-kites-talk']);
  await session.forget();
  await until('it is gone', async () => (await keptNames()).length === 0);
  expect(room.sockets.size).toBe(0);
  say('Yes.');
  await turnsOfTheLoop(2);
  expect(said(session)).toEqual(['A tighter fringe?']);
});
