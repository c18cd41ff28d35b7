/** Who is at a board, as the pages of several people see it: names and colours, tabs, and lines that break. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { writeBoard } from '../../../engine/document/index.ts';
import { BoardSession, type SessionOptions } from '../../../web/sync/board-session.ts';
import { craftWords, nameKey } from '../../../web/sync/craft-words.ts';
import { joinCompany } from '../../../web/sync/join-company.ts';
import { FORMER_NAMES } from '../../../web/sync/person.ts';
import { CRAFT_NAMES, loadTexts, speak } from '../../../web/text/index.ts';
import { stubBrowser } from '../../support/fresh-browser.ts';
import { HandClock } from '../../support/hand-clock.ts';
import type { MemoryRooms } from '../../support/memory-rooms.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';

const WREN = { id: 'wren', name: 'Wren', hex: '#b3541e', isNamed: true };
const FINCH = { id: 'finch', name: 'Finch', hex: '#2f6f73', isNamed: true };

type JoinOptions = Parameters<typeof joinCompany>[1];

let rooms: MemoryRooms;
let clock: HandClock;
const sessions: BoardSession[] = [];

beforeEach(async () => {
  await loadTexts('people');
  clock = new HandClock();
  rooms = stubBrowser();
  writeBoard(rooms.room('kites/design').doc, sampleBoard(), countingIds('w'));
});
afterEach(async () => {
  for (const session of sessions.splice(0)) session.dispose();
  expect(clock.waiting).toBe(0);
  await turnsOfTheLoop(3);
  vi.unstubAllGlobals();
});

/** Somebody's page at the board. */
function sessionOf(more: Partial<SessionOptions> = {}, join: Partial<JoinOptions> = {}): BoardSession {
  const session = new BoardSession({
    boardId: 'kites',
    canEdit: true,
    person: WREN,
    server: 'ws://boards.example',
    ...more,
  });
  sessions.push(session);
  session.provider.maxBackoffTime = 1;
  joinCompany(session, { keepLook: () => {}, now: clock.now, after: clock.after, ...join });
  return session;
}

async function opened(
  more: Partial<SessionOptions> = {},
  join: Partial<JoinOptions> = {},
): Promise<BoardSession> {
  const session = sessionOf(more, join);
  await until('the board is saved', () => session.saved === 'saved');
  return session;
}

async function left(session: BoardSession): Promise<void> {
  sessions.splice(sessions.indexOf(session), 1);
  session.dispose();
  await turnsOfTheLoop(3);
}

describe('who is there', () => {
  it('[W948] is oneself first, then the others, until they leave; what is no presence is nobody, and nobody repeats another', async () => {
    const wren = await opened();
    const finch = await opened({ person: FINCH });
    const namesAt = ({ people }: BoardSession): string[] =>
      people.value.map(({ presence }) => presence.person.name);
    await until('each sees both', () => namesAt(finch).join() === 'Finch,Wren');
    wren.introduce({ ...WREN, name: 'Wren II' });
    await until('a new name is told', () => namesAt(finch).join() === 'Finch,Wren II');
    expect(finch.people.value.map(({ self }) => self)).toEqual([true, false]);
    finch.setPresence({ view: { fromRow: 1, toRow: 3 } });
    await until('where they are is told', () => wren.people.value[1]?.presence.view?.toRow === 3);
    expect(namesAt(wren)).toEqual(['Wren II', 'Finch']);
    // Somebody's program says what no page says.
    finch.setPresence({ cursor: 7 as never });
    await until('nobody else is there', () => wren.people.value.length === 1);
    finch.setPresence({ cursor: null });
    await until('they are again', () => wren.people.value.length === 2);
    await left(finch);
    await until('they left', () => wren.people.value.length === 1);
    expect(rooms.room('kites/design').repeats).toBe(0);
  });
});

describe('who is who', () => {
  const somebody = (id: string): SessionOptions['person'] => ({
    id,
    name: 'Bobbin',
    hex: '#b3541e',
    isNamed: false,
  });
  const looksAt = ({ people }: BoardSession): readonly string[] =>
    people.value.map(({ presence: { person } }) => `${person.name} ${person.hex}`);
  const differ = (looks: readonly string[], count: number): boolean =>
    new Set(looks).size === count && new Set(looks.map((look) => look.slice(-7))).size === count;

  it('[W940] [W941] four who come at once with one name and colour end with four of each, kept for the next visit', async () => {
    const kept = new Map<string, string>();
    const four = ['a', 'b', 'c', 'd'].map((id) =>
      sessionOf(
        { person: somebody(id) },
        { keepLook: ({ name: called, hex }) => kept.set(id, `${called} ${hex}`) },
      ),
    );
    await until('everybody sees four', () => four.every((session) => differ(looksAt(session), 4)));
    const own = four.map((session) => looksAt(session)[0]!);
    for (const session of four) expect([...looksAt(session)].sort()).toEqual([...own].sort());
    expect(kept.size).toBe(3);
    for (const look of kept.values()) expect(own).toContain(look);
    expect(own).toContain('Bobbin #b3541e');
  });

  it('[W940] nobody hears of somebody who does not know yet who is there, and who was there keeps theirs', async () => {
    const first = await opened({ person: somebody('z') }, { now: () => 9_000 });
    const second = sessionOf({ person: somebody('a') }, { now: () => 5_000 });
    expect(looksAt(second)).toEqual(['Bobbin #b3541e']);
    const heard: string[] = [];
    first.people.subscribe(() => heard.push(...looksAt(first).slice(1)));
    await until('they see each other', () => looksAt(first).length === 2 && looksAt(second).length === 2);
    expect(looksAt(first)[0]).toBe('Bobbin #b3541e');
    expect(heard).not.toContain('Bobbin #b3541e');
    expect(second.isNameTaken(' bobbin')).toBe(true);
    expect(second.isNameTaken('Ida')).toBe(false);
  });

  it('[W940] who joins long after the line came up is seen at once, and sees who is there', async () => {
    const first = await opened({ person: somebody('z') });
    const late = new BoardSession({
      boardId: 'kites',
      canEdit: true,
      person: somebody('a'),
      server: 'ws://boards.example',
    });
    sessions.push(late);
    await until('it is connected', () => late.saved === 'saved');
    await turnsOfTheLoop(3);
    expect([looksAt(first).length, looksAt(late).length]).toEqual([1, 1]);
    joinCompany(late, { keepLook: () => {}, now: clock.now, after: clock.after });
    await until('they see each other', () => differ(looksAt(first), 2) && differ(looksAt(late), 2));
    expect(looksAt(first)[0]).toBe('Bobbin #b3541e');
  });

  it('[W945] what the browser drew first is seen by nobody: a word of the craft is, of as many as a class has people', async () => {
    const words = craftWords();
    expect(new Set(words.map(nameKey)).size).toBeGreaterThanOrEqual(40);
    const session = await opened({ person: { ...somebody('a'), name: FORMER_NAMES[0]! } });
    expect(words).toContain(session.presence.person.name);
    // Whoever chose it is called so.
    const named = await opened({ person: { ...WREN, name: FORMER_NAMES[0]! } });
    expect(named.presence.person.name).toBe(FORMER_NAMES[0]);
  });

  it('[B275] two whose pages speak different languages see each other in their own, and never by one name', async () => {
    const unnamed = (id: string, name: string) => ({ ...somebody(id), name });
    const first = await opened({ person: unnamed('a', 'Spule') });
    expect(looksAt(first)[0]).toMatch(/^Bobbin /);
    const second = await opened({ person: unnamed('b', 'Bobbin') });
    await until('they see each other', () => differ(looksAt(first), 2) && differ(looksAt(second), 2));
    // A page of another language shows the same two.
    vi.stubGlobal('document', { documentElement: {} });
    await speak('de');
    const third = await opened({ person: somebody('c') });
    await until('the third sees both', () => differ(looksAt(third), 3));
    expect(looksAt(third).filter((look) => look.startsWith('Spule '))).toHaveLength(1);
    for (const look of looksAt(third)) expect(CRAFT_NAMES.de).toContain(look.split(' #')[0]);
    await speak('en');
  });

  it('[B275] who has left keeps the name as well', async () => {
    const first = await opened({ person: somebody('a') });
    const second = await opened({ person: { ...WREN, id: 'x', name: 'Tassel' } });
    await until('they see each other', () => looksAt(first).length === 2);
    await left(second);
    await until('the second is gone', () => looksAt(first).length === 1);
    first.introduce({ ...somebody('a'), name: 'Tassel', isNamed: false });
    first.hearOf([]);
    expect(looksAt(first)[0]).not.toMatch(/^Tassel/);
  });

  it('[W941] a proposed name moves off those whom the board knows', async () => {
    const session = await opened({ person: somebody('a') });
    session.hearOf([{ id: 'a', name: 'Bobbin' }]);
    expect(looksAt(session)).toEqual(['Bobbin #b3541e']);
    session.hearOf([{ id: 'x', name: 'Bobbin' }]);
    expect(looksAt(session)[0]).not.toContain('Bobbin');
    expect(session.isNameTaken('Bobbin')).toBe(true);
  });

  it('[W947] whom somebody follows to each name stays in the end, instead of moving without end', async () => {
    let looks = 0;
    const session = await opened({ person: somebody('b') }, { keepLook: () => (looks += 1) });
    const chaser = await opened({ person: { ...somebody('a'), isNamed: true } });
    chaser.setPresence({ seat: { since: 1, isNamed: true } });
    session.people.subscribe(([self]) => {
      const { name: called } = self!.presence.person;
      if (chaser.people.value[0]!.presence.person.name !== called)
        chaser.introduce({ ...somebody('a'), name: called, isNamed: true });
    });
    await until('it has moved as often as it does', () => looks === 12);
    await turnsOfTheLoop(20);
    expect(looks).toBe(12);
  });

  it('[W944] without a line the others stay, not heard; with it they are there again, or have left', async () => {
    const wren = await opened();
    const finch = await opened({ person: FINCH });
    await until('they see each other', () => wren.people.value.length === 2);
    rooms.cut();
    expect(wren.people.value.map(({ isUnheard }) => isUnheard)).toEqual([undefined, true]);
    expect(wren.left.value).toEqual([]);
    rooms.isDown = false;
    await until('both are back', () => wren.isConnected && finch.isConnected);
    await until('they hear each other', () => wren.people.value.every(({ isUnheard }) => !isUnheard));
    expect([wren.people.value.length, wren.left.value]).toEqual([2, []]);
    rooms.cut();
    await left(finch);
    rooms.isDown = false;
    await until('it is known who has left', () => wren.left.value.length === 1);
    expect(wren.left.value[0]?.person.name).toBe('Finch');
    expect(wren.people.value.map(({ self }) => self)).toEqual([true]);
  });
});
