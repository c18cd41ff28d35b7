/** Coming to a board: what one may do there, what is said, and what this browser keeps when it is less than before. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { writeBoard } from '../../../engine/document/index.ts';
import { asideNames } from '../../../web/sync/copies.ts';
import { openBoard, readLeft } from '../../../web/visit/open-board.ts';
import { keptNames } from '../../support/fresh-browser.ts';
import { leaveCopy } from '../../support/leave-copy.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { refusal, stubVisitedPage } from '../../support/visited-page.ts';

const SECRET = 'a'.repeat(32);
const BOARD = '/api/boards/kites';

let page: ReturnType<typeof stubVisitedPage>;
beforeEach(() => {
  page = stubVisitedPage();
  page.answers.set(BOARD, { id: 'kites', kind: 'board', canWrite: true });
  page.answers.set(`${BOARD}/me`, { personId: 'wren', role: 'co-maker', endsAt: null });
});
afterEach(() => vi.unstubAllGlobals());

/** This browser was at the board before, in this role, and keeps a copy. */
async function wasHere(role: string): Promise<void> {
  page.kept.set('larkboard.role.kites', role);
  const doc = new Y.Doc();
  writeBoard(doc, sampleBoard(), countingIds('w'));
  await leaveCopy('larkboard-kites', doc);
}

describe('who may come in', () => {
  it('opens the board, and is known from then on', async () => {
    expect(await openBoard('kites')).toEqual({
      ok: true,
      canEdit: true,
      isDemo: false,
      isWhole: true,
      standing: { personId: 'wren', role: 'co-maker', endsAt: null },
      message: '',
    });
    expect(page.kept.get('larkboard.role.kites')).toBe('co-maker');
    expect(JSON.parse(page.kept.get('larkboard.person') ?? '')).toMatchObject({ id: 'wren' });
  });

  it('where the server knows no links, whoever knows the address edits, and no role is remembered', async () => {
    page.answers.set(BOARD, { id: 'kites' });
    page.answers.set(`${BOARD}/me`, refusal(404, 'not-found'));
    expect(await openBoard('kites')).toMatchObject({ ok: true, canEdit: true, standing: null });
    expect(page.kept.has('larkboard.role.kites')).toBe(false);
  });

  it.each([
    ['demo', true, false],
    ['branch', false, false],
    ['board', false, true],
  ])('a %s is told as one', async (kind, isDemo, isWhole) => {
    page.answers.set(BOARD, { id: 'kites', kind, canWrite: false });
    expect(await openBoard('kites')).toMatchObject({ ok: true, canEdit: false, isDemo, isWhole });
  });
});

describe('[A20] a link in the address', () => {
  beforeEach(() => {
    page.address.hash = SECRET;
  });

  it('is exchanged before anything else, and leaves nothing of it in the address', async () => {
    page.answers.set(`${BOARD}/enter`, { personId: 'wren', role: 'co-maker', endsAt: null });
    expect(await openBoard('kites')).toMatchObject({ ok: true, message: '' });
    expect(page.asked).toEqual([
      `POST ${BOARD}/enter {"secret":"${SECRET}"}`,
      `GET ${BOARD}`,
      `GET ${BOARD}/me`,
    ]);
    expect(page.address.href).toBe('https://boards.example/board/kites?look=chart');
  });

  it('that opens nothing is said to whoever is in by another', async () => {
    page.answers.set(`${BOARD}/enter`, refusal(404, 'unknown-link'));
    const opened = await openBoard('kites');
    expect(opened).toMatchObject({ ok: true, canEdit: true });
    expect(opened.message).toContain('You are here by another one');
    expect(page.address.hash).toBe('');
  });

  it('that opens nothing is why a stranger does not come in', async () => {
    page.answers.set(`${BOARD}/enter`, refusal(404, 'unknown-link'));
    page.answers.set(BOARD, refusal(404, 'unknown-board'));
    const opened = await openBoard('kites');
    expect(opened).toMatchObject({ ok: false, left: [] });
    expect(opened.message).toContain('This link opens nothing');
  });

  it('that opens nothing does not hide that the board was closed to them', async () => {
    page.answers.set(`${BOARD}/enter`, refusal(404, 'unknown-link'));
    page.answers.set(BOARD, refusal(403, 'revoked'));
    expect((await openBoard('kites')).message).toBe('Your link to this board was taken back.');
  });

  it('stays in the address until the server has answered', async () => {
    page.answers.set(`${BOARD}/enter`, refusal(429, 'too-many-tries'));
    const opened = await openBoard('kites');
    expect([opened.ok, opened.message]).toEqual([false, expect.stringContaining('Too many')]);
    page.answers.delete(`${BOARD}/enter`);
    expect(await openBoard('kites')).toMatchObject({ ok: true, standing: undefined });
    expect(page.address.hash).toBe(`#${SECRET}`);
  });

  it('other things behind the # are no link', async () => {
    page.address.hash = 'rows';
    await openBoard('kites');
    expect(page.asked[0]).toBe(`GET ${BOARD}`);
    expect(page.address.hash).toBe('#rows');
  });
});

describe('who may do less than before', () => {
  it('[B180] hears so, and what this browser keeps is put aside', async () => {
    await wasHere('co-maker');
    page.answers.set(BOARD, { id: 'kites', kind: 'board', canWrite: false });
    page.answers.set(`${BOARD}/me`, { personId: 'wren', role: 'onlooker', endsAt: null });
    const opened = await openBoard('kites');
    expect(opened).toMatchObject({ ok: true, canEdit: false });
    expect(opened.message).toContain('You may only look at this board now');
    expect(await asideNames('kites')).toHaveLength(1);
    expect(await keptNames()).not.toContain('larkboard-kites');
    expect(page.kept.get('larkboard.role.kites')).toBe('onlooker');
  });

  it.each(['onlooker', 'reviewer'])('an %s who still only looks keeps the copy', async (role) => {
    await wasHere(role);
    page.answers.set(BOARD, { id: 'kites', kind: 'board', canWrite: false });
    page.answers.set(`${BOARD}/me`, { personId: 'wren', role: 'onlooker', endsAt: null });
    expect(await openBoard('kites')).toMatchObject({ ok: true, message: '' });
    expect(await keptNames()).toEqual(['larkboard-kites']);
  });
});

describe('without the server', () => {
  it.each([
    ['co-maker', true],
    ['onlooker', false],
    [null, true],
  ])('[B3] a board opens as one last knew it: %s', async (role, canEdit) => {
    page.answers.clear();
    if (role !== null) await wasHere(role);
    expect(await openBoard('kites')).toEqual({
      ok: true,
      canEdit,
      isDemo: false,
      isWhole: false,
      standing: undefined,
      message: '',
    });
  });

  it('[B9] a demo board stays one where the line breaks between two questions', async () => {
    page.answers.set(BOARD, { id: 'kites', kind: 'demo', canWrite: false });
    page.answers.delete(`${BOARD}/me`);
    expect(await openBoard('kites')).toMatchObject({ canEdit: false, isDemo: true, standing: undefined });
  });
});

describe('a board that does not open', () => {
  it.each([
    ['unknown-board', 404, 'There is no such board', 1],
    ['revoked', 403, 'Your link to this board was taken back', 1],
    ['store-failed', 500, 'the server could not do it', 0],
  ])('says why for %s, and offers what is left of one that is gone', async (kind, status, sentence, left) => {
    await wasHere('co-maker');
    page.answers.set(BOARD, refusal(status, kind));
    const opened = await openBoard('kites');
    if (opened.ok) throw new Error('it opened');
    expect(opened.message).toContain(sentence);
    expect(opened.left).toHaveLength(left);
  });

  it('[A43] nothing is left for somebody who never was at it', async () => {
    await wasHere('co-maker');
    page.kept.clear();
    expect(await readLeft('kites')).toEqual([]);
    page.kept.set('larkboard.role.kites', 'owner');
    expect(await readLeft('kites')).toMatchObject([{ names: ['larkboard-kites'] }]);
  });

  it('a fault of the page is no word of the server', async () => {
    page.kept.set('larkboard.role.kites', 'owner');
    vi.stubGlobal('history', null);
    page.address.hash = SECRET;
    page.answers.set(`${BOARD}/enter`, { personId: 'wren', role: 'co-maker', endsAt: null });
    await expect(openBoard('kites')).rejects.toThrow(TypeError);
  });
});
