/** A page's visit to a board: which session it holds, and what it does when the server closes the line or may have changed its mind. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import {
  type CloseReason,
  LATER_COMMANDS,
  readDesign,
  type Role,
  writeBoard,
} from '../../../engine/document/index.ts';
import { type PartManifest, registerParts } from '../../../web/parts/index.ts';
import type { BoardSession } from '../../../web/sync/index.ts';
import type { VisitHooks } from '../../../web/visit/board-visit.ts';
import { BoardVisit, goTo, isForThisTab, type OpenedBoard } from '../../../web/visit/index.ts';
import { keptNames } from '../../support/fresh-browser.ts';
import { leaveCopy } from '../../support/leave-copy.ts';
import type { MemoryRoom } from '../../support/memory-rooms.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { StubOwnSteps as OwnSteps } from '../../support/stub-own-steps.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { refusal, stubHost, stubVisitedPage } from '../../support/visited-page.ts';

const SECRET = 'a'.repeat(32);
const BOARD = '/api/boards/kites';

let page: ReturnType<typeof stubVisitedPage>;
let room: MemoryRoom;
let host: ReturnType<typeof stubHost>;
const visits: BoardVisit[] = [];

/** Stands in for what sees to what tabs put aside. */
class AsideOffer {
  static readonly made: AsideOffer[] = [];
  isEnded = false;
  readonly names: readonly string[];
  constructor(_host: unknown, _session: unknown, names: readonly string[]) {
    this.names = names;
    AsideOffer.made.push(this);
  }
  async begin(): Promise<void> {}
  end(): void {
    this.isEnded = true;
  }
}
/** Fetches it. */
let fetched: () => Promise<object>;

beforeEach(() => {
  page = stubVisitedPage();
  host = stubHost();
  stubBoard('kites', 'co-maker');
  room = page.rooms.room('kites/design');
  AsideOffer.made.length = 0;
  fetched = async () => ({ AsideOffer });
  OwnSteps.made.length = 0;
  registerParts({
    aside: { file: () => fetched() },
    'own-steps': { file: async () => ({ OwnSteps }) },
    notices: { file: async () => ({}) },
  } satisfies PartManifest);
});
afterEach(async () => {
  for (const visit of visits.splice(0)) visit.hostDisconnected();
  await turnsOfTheLoop(5);
  vi.unstubAllGlobals();
});

function stubBoard(id: string, role: Role): void {
  const canWrite = role === 'co-maker' || role === 'owner';
  page.answers.set(`/api/boards/${id}`, { id, kind: 'board', canWrite });
  page.answers.set(`/api/boards/${id}/me`, { personId: 'wren', role, endsAt: null });
  const { doc } = page.rooms.room(`${id}/design`);
  if (doc.store.clients.size === 0) writeBoard(doc, { ...sampleBoard(), title: id }, countingIds('w'));
}

function visitOf(hooks: Partial<VisitHooks> = {}) {
  const opened: [BoardSession, OpenedBoard][] = [];
  const visit = new BoardVisit(host, { onOpened: (...one) => opened.push(one), ...hooks });
  visit.hostConnected();
  visits.push(visit);
  return { visit, opened };
}

async function opened(hooks: Partial<VisitHooks> = {}) {
  const all = visitOf(hooks);
  await all.visit.open('kites');
  await until('the board is saved', () => all.visit.session?.saved === 'saved');
  return { ...all, session: all.visit.session! };
}

const titleAt = (visit: BoardVisit): string | undefined => visit.session?.design.snapshot.board.title;

describe('coming to a board', () => {
  it('holds its session once it is open, and tells the page', async () => {
    let changes = 0;
    const { visit, opened: told } = visitOf({
      onChange: () => {
        changes += 1;
      },
    });
    expect([visit.session, visit.standing, visit.isDemo, visit.isWhole]).toEqual([
      null,
      undefined,
      false,
      false,
    ]);
    await visit.open('kites');
    expect(told).toEqual([[visit.session, expect.objectContaining({ canEdit: true })]]);
    expect([visit.standing?.role, visit.isDemo, visit.isWhole, visit.message]).toEqual([
      'co-maker',
      false,
      true,
      '',
    ]);
    const updates = host.updates;
    await until('the board is there', () => titleAt(visit) === 'kites');
    expect(changes).toBeGreaterThan(0);
    expect(host.updates).toBeGreaterThan(updates);
    expect(visit.session?.server).toBe('wss://boards.example');
    expect(visit.aside).toBeNull();
  });

  it('[W1023] a second time it is there before the server has said anything, from what this browser keeps', async () => {
    const first = await opened();
    const doc = new Y.Doc();
    Y.applyUpdate(doc, Y.encodeStateAsUpdate(room.doc));
    first.visit.leave();
    await leaveCopy('larkboard-kites', doc);
    let answer = (_: unknown): void => {};
    page.answers.set(BOARD, new Promise((resolve) => (answer = resolve)));
    const { visit, opened: told } = visitOf();
    const coming = visit.come('kites');
    await until('the board is there', () => titleAt(visit) === 'kites');
    expect([visit.standing?.role, visit.isWhole, visit.session?.canEdit]).toEqual(['co-maker', true, true]);
    // It says the same: nothing changes.
    answer({ id: 'kites', kind: 'board', canWrite: true });
    await coming;
    expect(told).toHaveLength(1);
    expect([visit.session === told[0]![0], visit.message]).toEqual([true, '']);
  });

  it.each([
    ['may only look now', { id: 'kites', kind: 'board', canWrite: false }, 'learner', true],
    ['was put out', refusal(403, 'revoked'), 'co-maker', false],
    ['finds it gone', refusal(404, 'unknown-board'), 'co-maker', false],
  ] as const)(
    '[W1023] whoever %s meanwhile comes anew, as the server says',
    async (_how, says, role, isOpen) => {
      (await opened()).visit.leave();
      page.answers.set(BOARD, says);
      page.answers.set(`${BOARD}/me`, { personId: 'wren', role, endsAt: null });
      const { visit, opened: told } = visitOf();
      await visit.come('kites');
      expect(told[0]![0].canEdit).toBe(true);
      expect(visit.session?.canEdit ?? null).toBe(isOpen ? false : null);
      expect(visit.message).not.toBe('');
      // The next time it is not there before the server has said so.
      const next = visitOf();
      await next.visit.come('kites');
      expect(next.opened.map(([session]) => session.canEdit)).toEqual(isOpen ? [false] : []);
    },
  );

  it('[W1023] where the server is away the board stays open; a link in the address is asked about first', async () => {
    (await opened()).visit.leave();
    page.answers.clear();
    const { visit, opened: told } = visitOf();
    await visit.come('kites');
    expect([told.length, visit.session !== null]).toEqual([1, true]);
    visit.leave();
    page.address.hash = `#${SECRET}`;
    stubBoard('kites', 'co-maker');
    page.answers.set(`${BOARD}/enter`, { personId: 'wren', role: 'co-maker', endsAt: null });
    const before = page.asked.length;
    await visit.come('kites');
    expect(page.asked[before]).toMatch(/^POST .*enter/);
  });

  it('says why where it does not open, and offers what is left, until that is forgotten', async () => {
    page.kept.set('larkboard.role.kites', 'owner');
    const doc = new Y.Doc();
    writeBoard(doc, sampleBoard(), countingIds('w'));
    await leaveCopy('larkboard-kites', doc);
    page.answers.set(BOARD, refusal(404, 'unknown-board'));
    const { visit, opened: told } = visitOf();
    await visit.open('kites');
    expect([visit.session, told]).toEqual([null, []]);
    expect(visit.message).toContain('There is no such board');
    expect(visit.left).toHaveLength(1);
    await visit.forgetLeft(visit.left[0]!);
    expect([visit.left, await keptNames()]).toEqual([[], []]);
  });

  it.each([
    ['opens', { id: 'kites', kind: 'board' }],
    ['does not open', refusal(404, 'unknown-board')],
  ])('one that was overtaken by another opens nothing and says nothing; it %s', async (_how, late) => {
    stubBoard('harbour', 'co-maker');
    let answer = (_: unknown): void => {};
    page.answers.set(BOARD, new Promise((resolve) => (answer = resolve)));
    const { visit, opened: told } = visitOf();
    const first = visit.open('kites');
    await visit.open('harbour');
    answer(late);
    await first;
    expect(told.map(([{ boardId }]) => boardId)).toEqual(['harbour']);
    expect([visit.session?.boardId, visit.message]).toEqual(['harbour', '']);
  });

  it('one whose page has gone opens nothing, neither before nor after it was prepared', async () => {
    const gone = visitOf();
    const opening = gone.visit.open('kites');
    host.isConnected = false;
    await opening;
    host.isConnected = true;
    const prepared = visitOf({
      prepare: async () => {
        host.isConnected = false;
        return false;
      },
    });
    await prepared.visit.open('kites');
    expect([gone.opened, prepared.opened, room.visits]).toEqual([[], [], 0]);
  });

  it('[B9] a page may have edits stay in it, and then one edits whatever the role', async () => {
    stubBoard('kites', 'onlooker');
    const { visit } = await opened({ prepare: async ({ canEdit }) => !canEdit });
    expect([visit.session?.isSketch, visit.session?.canEdit]).toEqual([true, true]);
    visit.session?.design.giveCommands(LATER_COMMANDS);
    expect(visit.session?.design.run({ kind: 'set-title', title: 'Mine' })).toEqual({ ok: true });
    await turnsOfTheLoop(3);
    expect(readDesign(room.doc).board.title).toBe('kites');
  });

  it('a new name is told to the others, and kept', async () => {
    const { visit, session } = await opened();
    visit.rename('Ida');
    expect(session.presence.person.name).toBe('Ida');
    expect(page.kept.get('larkboard.person')).toContain('Ida');
    visit.leave();
    // Nobody is there to be renamed.
    visit.rename('Ada');
    expect(page.kept.get('larkboard.person')).toContain('Ida');
  });
});

describe('leaving', () => {
  it('ends the session, and keeps the copy unless the page says otherwise', async () => {
    const { visit, session } = await opened();
    visit.leave();
    expect([visit.session, session.isConnected]).toEqual([null, false]);
    visit.leave();
    await turnsOfTheLoop(5);
    expect(await keptNames()).toEqual(['larkboard-kites']);
    const left: BoardSession[] = [];
    const again = await opened({ onLeave: (one) => left.push(one) > 0 });
    again.visit.leave();
    expect(left).toEqual([again.session]);
    await until('it is forgotten', async () => (await keptNames()).length === 0);
  });

  it('and forgetting drops what this browser keeps, whatever the page says', async () => {
    let told = 0;
    const { visit, session } = await opened({
      onLeave: () => {
        told += 1;
        return false;
      },
    });
    await visit.leaveAndForget();
    await visit.leaveAndForget();
    expect([visit.session, session.isConnected, told, await keptNames()]).toEqual([null, false, 1, []]);
  });

  it('a page that goes leaves its board', async () => {
    const { visit } = await opened();
    visit.hostDisconnected();
    expect([visit.session, room.sockets.size]).toEqual([null, 0]);
  });
});

describe('when the server closes the line', () => {
  it('[V108] as outdated, what was kept goes and the board opens anew', async () => {
    const { visit, session } = await opened();
    room.close('outdated');
    expect(visit.session).toBeNull();
    await until('it is open again', () => visit.session?.saved === 'saved');
    expect(visit.session).not.toBe(session);
    expect(titleAt(visit)).toBe('kites');
  });

  it('[V108] as outdated, whoever goes elsewhere meanwhile stays there', async () => {
    stubBoard('harbour', 'co-maker');
    const { visit } = await opened();
    room.close('outdated');
    await visit.open('harbour');
    await turnsOfTheLoop(10);
    expect(visit.session?.boardId).toBe('harbour');
    expect(page.asked.filter((line) => line === 'GET /api/boards/harbour')).toHaveLength(1);
  });

  it('[A20] with another role, the board opens anew in that', async () => {
    const { visit } = await opened();
    stubBoard('kites', 'onlooker');
    room.close('roleChanged');
    await until('it is open again', () => visit.session?.canEdit === false);
    expect(visit.standing?.role).toBe('onlooker');
    expect(visit.message).toContain('You may only look at this board now');
  });

  it('[A20] with another role in which one edits as well, it does too', async () => {
    const { visit } = await opened();
    stubBoard('kites', 'owner');
    room.close('roleChanged');
    await until('it is open again', () => visit.standing?.role === 'owner');
  });

  it.each<[CloseReason, string]>([
    ['revoked', 'Your link to this board was taken back.'],
    ['unknownBoard', 'There is no such board, or your link to it has ended.'],
  ])('[A43] as %s, the page says so and offers what this browser holds', async (reason, sentence) => {
    const { visit } = await opened();
    room.close(reason);
    expect([visit.session, visit.message]).toEqual([null, sentence]);
    await until('the copy is offered', () => visit.left.length === 1);
    expect(visit.left[0]?.board.title).toBe('kites');
    // What is found of a board that was left meanwhile is not offered at another.
    const again = await opened();
    room.close(reason);
    stubBoard('harbour', 'co-maker');
    await again.visit.open('harbour');
    await turnsOfTheLoop(10);
    expect([again.visit.left, again.visit.message]).toEqual([[], '']);
  });

  it('for a while only, the page is told and stays', async () => {
    const reasons: (CloseReason | null)[] = [];
    const { visit, session } = await opened({ onChange: ({ closeReason }) => reasons.push(closeReason) });
    room.close('busy');
    expect(reasons.at(-1)).toBe('busy');
    await until('it is back', () => session.saved === 'saved');
    expect([visit.session, reasons.at(-1)]).toEqual([session, null]);
  });
});

describe('when a line that broke comes back', () => {
  /** Breaks it and lets it come back. */
  async function comeBack(visit: BoardVisit): Promise<number> {
    page.rooms.cut();
    expect(visit.session?.saved).toBe('offline');
    const asked = page.asked.length;
    page.rooms.isDown = false;
    const before = room.visits;
    await until('it is back', () => room.visits > before);
    await until('it was asked what one may do', () => page.asked.length > asked);
    await turnsOfTheLoop(5);
    return asked;
  }

  it('it is asked what one may do by now, and the board stays open as it is', async () => {
    const { visit, session } = await opened();
    const asked = await comeBack(visit);
    expect(page.asked.slice(asked)).toEqual([`GET ${BOARD}/me`]);
    expect(visit.session).toBe(session);
  });

  it('[A20] somebody who may do less by now opens it anew', async () => {
    const { visit, session } = await opened();
    stubBoard('kites', 'onlooker');
    await comeBack(visit);
    await until('it is open again', () => visit.session?.canEdit === false);
    expect(visit.session).not.toBe(session);
  });

  it('where that cannot be asked, or the server knows no links, the board stays', async () => {
    const { visit, session } = await opened();
    page.answers.delete(`${BOARD}/me`);
    await comeBack(visit);
    expect(visit.session).toBe(session);
    page.answers.set(`${BOARD}/me`, refusal(404, 'not-found'));
    await comeBack(visit);
    expect(visit.session).toBe(session);
  });

  it('[B3] one that was opened without the server is asked about when it comes', async () => {
    const { answers } = page;
    const all = [...answers];
    answers.clear();
    page.kept.set('larkboard.role.kites', 'co-maker');
    const { visit } = visitOf();
    await visit.open('kites');
    expect(visit.standing).toBeUndefined();
    for (const [path, answer] of all) answers.set(path, answer);
    stubBoard('kites', 'onlooker');
    await until('it is open again', () => visit.session?.canEdit === false);
    expect(visit.standing?.role).toBe('onlooker');
  });

  it('[B9] a board to sketch on is not asked about', async () => {
    const { visit, session } = await opened({ prepare: async () => true });
    page.rooms.cut();
    page.rooms.isDown = false;
    const asked = page.asked.length;
    await until('it is back', () => session.isConnected);
    await turnsOfTheLoop(5);
    expect([page.asked.length, visit.session]).toEqual([asked, session]);
  });
});

describe('[A22] a link opened in the same tab', () => {
  const turnTo = (hash: string): void => {
    page.address.hash = hash;
    dispatchEvent(new Event('hashchange'));
  };

  it('is taken, and anything else behind the # is none', async () => {
    page.answers.set(`${BOARD}/enter`, { personId: 'wren', role: 'owner', endsAt: null });
    const { visit, session } = await opened();
    turnTo('rows');
    expect(visit.session).toBe(session);
    stubBoard('kites', 'owner');
    turnTo(SECRET);
    await until('it is open again', () => visit.standing?.role === 'owner' && visit.session !== null);
    expect(visit.session).not.toBe(session);
  });

  it('is not for a page that has gone', async () => {
    const { visit } = await opened();
    visit.hostDisconnected();
    const asked = page.asked.length;
    turnTo(SECRET);
    await turnsOfTheLoop(3);
    expect([page.asked.length, visit.session]).toEqual([asked, null]);
  });
});

describe('[B181] what other tabs put aside', () => {
  beforeEach(async () => {
    await leaveCopy('larkboard-kites.x', new Y.Doc());
  });

  it('is seen to while the board is open, and no longer', async () => {
    const { visit } = await opened();
    await until('it is seen to', () => visit.aside !== null);
    expect(AsideOffer.made.map(({ names }) => names)).toEqual([['larkboard-kites.x']]);
    visit.leave();
    expect([visit.aside, AsideOffer.made[0]?.isEnded]).toEqual([null, true]);
  });

  it('is not seen to at another board', async () => {
    let answer = (_: object): void => {};
    const waiting = new Promise<object>((resolve) => (answer = resolve));
    let isAsked = false;
    fetched = () => {
      isAsked = true;
      return waiting;
    };
    const { visit } = await opened();
    await until('it is fetched', () => isAsked);
    visit.leave();
    answer({ AsideOffer });
    await turnsOfTheLoop(5);
    expect([visit.aside, AsideOffer.made]).toEqual([null, []]);
  });

  it('waits for the next visit where that cannot be fetched', async () => {
    vi.stubGlobal('document', { querySelector: () => null });
    fetched = () => Promise.reject(new TypeError('no network'));
    const { visit, session } = await opened();
    await turnsOfTheLoop(5);
    expect([visit.aside, visit.session, await keptNames()]).toEqual([
      null,
      session,
      ['larkboard-kites', 'larkboard-kites.x'],
    ]);
  });
});

describe('going to another page of ours', () => {
  it('changes the address, and tells the page so', () => {
    const went: unknown[] = [];
    vi.stubGlobal('history', { pushState: (...args: unknown[]) => went.push(args) });
    vi.stubGlobal('PopStateEvent', Event);
    addEventListener('popstate', ({ type }) => went.push(type));
    goTo('/board/harbour');
    expect(went).toEqual([[null, '', '/board/harbour'], 'popstate']);
  });

  it.each([
    [{}, true],
    [{ metaKey: true }, false],
    [{ ctrlKey: true }, false],
    [{ shiftKey: true }, false],
    [{ button: 1 }, false],
  ])('a click with %o is for this tab: %s', (held, isOurs) => {
    const click = { metaKey: false, ctrlKey: false, shiftKey: false, button: 0, ...held };
    expect(isForThisTab(click as MouseEvent)).toBe(isOurs);
  });
});
