/** What other tabs put aside of a board: it is brought, or offered, or gone because the board has it; never lost without being asked. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { Design, readDesign, writeBoard } from '../../../engine/document/index.ts';
import { type PartManifest, registerParts } from '../../../web/parts/index.ts';
import { BoardSession } from '../../../web/sync/index.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { AsideOffer } from '../../../web/visit/aside-offer.ts';
import { keptNames } from '../../support/fresh-browser.ts';
import { leaveCopy } from '../../support/leave-copy.ts';
import type { MemoryRoom } from '../../support/memory-rooms.ts';
import { press } from '../../support/press.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { wordsOf } from '../../support/template-text.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { stubHost, stubVisitedPage } from '../../support/visited-page.ts';

const ASIDE = 'larkboard-kites.x';
const WREN = { id: 'wren', name: 'Wren', hex: '#b3541e', isNamed: true };

let page: ReturnType<typeof stubVisitedPage>;
let room: MemoryRoom;
let saved: string[];
const ends: (() => void)[] = [];

beforeEach(async () => {
  page = stubVisitedPage();
  await loadTexts('aside');
  room = page.rooms.room('kites/design');
  writeBoard(room.doc, { ...sampleBoard(), title: 'Kites' }, countingIds('w'));
  saved = [];
  const saveBoardFile = ({ title }: { readonly title: string }): unknown => saved.push(title);
  registerParts({ 'save-file': { file: async () => ({ saveBoardFile }) } } satisfies PartManifest);
});
afterEach(async () => {
  for (const end of ends.splice(0)) end();
  await turnsOfTheLoop(5);
  vi.unstubAllGlobals();
});

/** What a tab put aside that had the board and edited it. */
async function putAside(title: string, name = ASIDE): Promise<void> {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(room.doc));
  const tab = new Design(doc, { makerId: 'wren', newId: countingIds('n') });
  expect(tab.run({ kind: 'set-title', title })).toEqual({ ok: true });
  tab.dispose();
  await leaveCopy(name, doc);
}

/** The board is opened; what it then does with what was put aside. */
async function offered(canEdit: boolean, names: readonly string[] = [ASIDE], before = (): void => {}) {
  const session = new BoardSession({
    boardId: 'kites',
    canEdit,
    person: WREN,
    server: 'ws://boards.example',
  });
  ends.push(() => session.dispose());
  await until('the board is there', () => session.saved === 'saved' || page.rooms.isDown);
  before();
  const host = stubHost();
  const offer = new AsideOffer(host, session, names);
  ends.push(() => offer.end());
  const done = offer.begin();
  return { offer, session, host, done, words: () => wordsOf(offer.render()) };
}

const asides = async (): Promise<readonly unknown[]> =>
  (await keptNames()).filter((name) => name?.startsWith('larkboard-kites.'));

describe('where one may edit', () => {
  it('[B181] it is brought to the board, and is gone here then', async () => {
    await putAside('From the other tab');
    const { done, session, words, host } = await offered(true);
    // It is on its way.
    expect([words(), await asides()]).toEqual(['', [ASIDE]]);
    await done;
    expect(readDesign(room.doc).board.title).toBe('From the other tab');
    await until('it is shown', () => session.design.snapshot.board.title === 'From the other tab');
    expect([await asides(), words()]).toEqual([[], '']);
    expect(host.updates).toBeGreaterThan(1);
  });

  it('[B181] without a connection it waits, and says so', async () => {
    await putAside('From the other tab');
    page.rooms.cut();
    const { done, words } = await offered(true);
    await turnsOfTheLoop(5);
    expect(words()).toContain('They are added when the connection is back');
    expect(await asides()).toEqual([ASIDE]);
    page.rooms.isDown = false;
    await done;
    expect([await asides(), words()]).toEqual([[], '']);
  });

  it('[B182] what the server does not take is offered as a file, until it is forgotten', async () => {
    await putAside('From the other tab');
    const { offer, done, words } = await offered(true, [ASIDE], () => {
      room.refusal = 'forbidden';
    });
    await done;
    expect(words()).toContain(
      'Changes to “From the other tab” from another tab were not taken by the server.',
    );
    await press(offer.render(), 'Save the copy as a file');
    expect([saved, await asides()]).toEqual([['From the other tab'], [ASIDE]]);
    await press(offer.render(), 'Forget the copy');
    expect([words(), await asides()]).toEqual(['', []]);
  });

  it('[B181] left before the board is connected, it stays where it was', async () => {
    await putAside('From the other tab');
    page.rooms.cut();
    const { offer, done, words } = await offered(true);
    offer.end();
    await done;
    expect(await asides()).toEqual([ASIDE]);
    expect(words()).not.toContain('taken by the server');
  });
});

describe('where one may only look', () => {
  it('[B182] what the board has already is gone without a word', async () => {
    await putAside('Kites');
    const { done, words } = await offered(false);
    await done;
    expect([words(), await asides()]).toEqual(['', []]);
  });

  it('[B182] so is what looks alike and comes of an ended generation', async () => {
    const doc = new Y.Doc();
    writeBoard(doc, { ...sampleBoard(), title: 'Kites' }, countingIds('former'));
    await leaveCopy(ASIDE, doc);
    const { done, words, session } = await offered(false);
    expect(session.holds(doc)).toBe(false);
    await done;
    expect([words(), await asides()]).toEqual(['', []]);
  });

  it('[B182] more than that is no part of the board and offered as a file; what shows the same once', async () => {
    await putAside('From the other tab');
    await putAside('From the other tab', `${ASIDE}2`);
    await putAside('', `${ASIDE}3`);
    const { offer, session, done, words } = await offered(false, [ASIDE, `${ASIDE}2`, `${ASIDE}3`]);
    await done;
    expect(session.design.snapshot.board.title).toBe('Kites');
    expect(words().match(/you may only look at this board now/g)).toHaveLength(2);
    expect(words()).toContain('Changes to “From the other tab” were not saved');
    await press(offer.render(), 'Forget the copy');
    expect(words()).not.toContain('From the other tab');
    expect(words()).toContain('were not saved');
    expect(await asides()).toEqual([`${ASIDE}3`]);
  });

  it('[B182] what shows no board is said to be there until it is forgotten', async () => {
    const doc = new Y.Doc();
    doc.getMap('of-another-release').set('knots', 3);
    await leaveCopy(ASIDE, doc);
    const { offer, done, words } = await offered(false);
    await done;
    expect(words()).toContain('changes from another tab that are not a board of their own');
    expect(() => press(offer.render(), 'Save the copy as a file')).toThrow('no button');
    await press(offer.render(), 'Forget the copy');
    expect([words(), await asides()]).toEqual(['', []]);
  });
});
