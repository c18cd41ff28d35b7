/** [B9] A demo board that is changed becomes a copy of one's own, once, with all that was changed; and nothing changed is lost unasked. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Design } from '../../../engine/document/index.ts';
import { parseBoard } from '../../../engine/index.ts';
import { DemoCopy } from '../../../web/pages/demo-copy.ts';
import type { BoardSession } from '../../../web/sync/index.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { openDesign } from '../../support/open-design.ts';
import { press } from '../../support/press.ts';
import { wordsOf } from '../../support/template-text.ts';
import { refusal, stubHost, stubVisitedPage } from '../../support/visited-page.ts';

const QUIET_MS = 400;

/** As browsers keep things: each under a name of the object itself. */
class KeptStorage {
  [key: string]: unknown;
  getItem(key: string): string | null {
    return (this[key] as string | undefined) ?? null;
  }
  setItem(key: string, text: string): void {
    if (isFull) throw new DOMException('full', 'QuotaExceededError');
    this[key] = text;
  }
  removeItem(key: string): void {
    delete this[key];
  }
}
let isFull = false;

class FakeField {
  onBlur = (): void => {};
  blur(): void {
    this.onBlur();
  }
}

let page: ReturnType<typeof stubVisitedPage>;
let host: ReturnType<typeof stubHost>;
let went: string[];
let moved: unknown[];
let isOnBoard: boolean;
let storage: KeptStorage;
let copy: DemoCopy;
const board = {
  editor: { spot: { kind: 'knot', row: 2, k: 1 }, moveTo: (spot: unknown) => void moved.push(spot) },
  matches: () => isOnBoard,
  updateComplete: Promise.resolve(true),
  focusCell: () => void moved.push('focus'),
};

beforeEach(async () => {
  page = stubVisitedPage();
  await loadTexts('panels');
  storage = new KeptStorage();
  isFull = false;
  vi.stubGlobal('localStorage', storage);
  vi.stubGlobal('HTMLInputElement', FakeField);
  vi.stubGlobal('HTMLTextAreaElement', class {});
  vi.stubGlobal('PopStateEvent', Event);
  went = [];
  moved = [];
  isOnBoard = false;
  vi.stubGlobal('history', { pushState: (_: unknown, __: string, path: string) => went.push(path) });
  page.answers.set('/api/boards', { id: 'own' });
  page.answers.set('/api/boards/own', {});
  host = stubHost();
  copy = begin();
  vi.useFakeTimers();
});
afterEach(() => {
  copy.hostDisconnected();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

function begin(): DemoCopy {
  const made = new DemoCopy(host, () => board as never);
  made.hostConnected();
  return made;
}

/** A demo board is opened. */
function opened(boardId = 'demo', isSketch = true): Design {
  const design = openDesign();
  const session = { boardId, isSketch, isSketched: false, design };
  design.subscribe(() => {
    session.isSketched = isSketch;
  });
  copy.opened(session as unknown as BoardSession);
  return design;
}
const name = (design: Design, title: string): void =>
  expect(design.run({ kind: 'set-title', title })).toEqual({ ok: true });
/** The server has answered, and the page has done with it what it does. */
async function settle(): Promise<void> {
  for (let i = 0; i < 5; i += 1) await vi.advanceTimersByTimeAsync(0);
}
async function rest(): Promise<void> {
  await vi.advanceTimersByTimeAsync(QUIET_MS);
  await settle();
}
const says = (): string => wordsOf(copy.render());
/** Titles of the boards that were asked for. */
const made = (): (string | undefined)[] =>
  page.asked.flatMap((line) => {
    if (!line.startsWith('POST /api/boards ')) return [];
    const { file } = JSON.parse(line.slice('POST /api/boards '.length)) as { readonly file: unknown };
    const parsed = parseBoard(JSON.stringify(file));
    return [parsed.ok ? parsed.value.title : 'no board'];
  });
const keptKeys = (): string[] => Object.keys(storage);

describe('a change', () => {
  it('becomes a copy once nothing changes any more, and the page says so until it is told to stop', async () => {
    const design = opened();
    name(design, 'One');
    expect(says()).toBe('Making your own copy …');
    await vi.advanceTimersByTimeAsync(QUIET_MS - 1);
    name(design, 'Two');
    await vi.advanceTimersByTimeAsync(QUIET_MS - 1);
    expect(made()).toEqual([]);
    await rest();
    expect([made(), went]).toEqual([['Two'], ['/board/own']]);
    copy.closed();
    opened('own', false);
    expect(says()).toContain('This is now your own copy');
    press(copy.render(), 'Close');
    expect(says()).toBe('');
    expect(keptKeys()).toEqual([]);
  });

  it.each([
    ['the keys go on where they were', true],
    ['the cursor is where it was, and the keys stay off the board', false],
  ])('on the copy %s', async (_what, hasKeys) => {
    isOnBoard = hasKeys;
    name(opened(), 'One');
    await rest();
    copy.hostUpdated();
    await settle();
    expect(moved).toEqual([]);
    copy.closed();
    opened('own', false);
    copy.hostUpdated();
    await settle();
    copy.hostUpdated();
    await settle();
    expect(moved).toEqual([board.editor.spot, ...(hasKeys ? ['focus'] : [])]);
  });

  it('by a pointer that is still down waits until it is up', async () => {
    const design = opened();
    dispatchEvent(new Event('pointerdown'));
    name(design, 'One');
    await rest();
    await rest();
    expect(made()).toEqual([]);
    dispatchEvent(new Event('pointerup'));
    await rest();
    expect(made()).toEqual(['One']);
  });

  it('while the copy is made makes another in its place', async () => {
    const design = opened();
    let answer = (_: object): void => {};
    page.answers.set('/api/boards', new Promise<object>((resolve) => (answer = resolve)));
    name(design, 'One');
    await rest();
    name(design, 'Two');
    await rest();
    expect(made()).toEqual(['One']);
    answer({ id: 'own' });
    await settle();
    expect(went).toEqual([]);
    expect(page.asked).toContain('DELETE /api/boards/own');
    await rest();
    expect([made(), went]).toEqual([['One', 'Two'], ['/board/own']]);
  });

  it('that still stands in a field is handed over before the page goes', async () => {
    const design = opened();
    const field = new FakeField();
    field.onBlur = () => name(design, 'Typed');
    const focus = (kind: 'focusin' | 'focusout'): unknown =>
      dispatchEvent(Object.assign(new Event(kind), { composedPath: () => [field] }));
    focus('focusin');
    name(design, 'One');
    await rest();
    field.onBlur = () => {};
    await rest();
    expect([made(), went]).toEqual([['One', 'Typed'], ['/board/own']]);
    field.onBlur = () => {
      throw new Error('it was left');
    };
    focus('focusout');
    copy.closed();
    name(opened(), 'Two');
    await rest();
    expect(made().at(-1)).toBe('Two');
  });

  it('whose maker has left meanwhile becomes a board, and the page stays where they are', async () => {
    const design = opened();
    let answer = (_: object): void => {};
    page.answers.set('/api/boards', new Promise<object>((resolve) => (answer = resolve)));
    name(design, 'One');
    await rest();
    copy.closed();
    expect(keptKeys()).toHaveLength(1);
    answer({ id: 'own' });
    await settle();
    expect([went, keptKeys()]).toEqual([[], []]);
  });

  it('on a board of one’s own makes none', async () => {
    name(opened('own', false), 'One');
    await rest();
    expect([made(), says(), copy.mayLeave()]).toEqual([[], '', true]);
  });
});

it('a copy can be made before anything is changed', async () => {
  opened();
  press(copy.render(), 'Make my copy');
  await settle();
  expect(went).toEqual(['/board/own']);
});

describe('where the copy cannot be made', () => {
  it.each([
    ['the server refuses', () => page.answers.set('/api/boards', refusal(503, 'store-read-only'))],
    ['the server is away', () => page.answers.delete('/api/boards')],
  ])('as %s, it says why, keeps what was changed, and tries again when told', async (_how, fail) => {
    fail();
    const design = opened();
    name(design, 'One');
    await rest();
    expect(says()).toMatch(
      /^Your copy could not be made: .+\. What you changed is kept in this browser\. Try again$/,
    );
    // What is changed now is not sent by itself, and is in the copy when it is made.
    name(design, 'Two');
    await rest();
    expect(made()).toEqual(['One']);
    expect(says()).toContain('What you changed is only on this screen.');
    page.answers.set('/api/boards', { id: 'own' });
    press(copy.render(), 'Try again');
    await settle();
    expect([made(), went, keptKeys()]).toEqual([['One', 'Two'], ['/board/own'], []]);
  });

  it('and there is no room to keep it, leaving asks first', async () => {
    page.answers.delete('/api/boards');
    isFull = true;
    name(opened(), 'One');
    await rest();
    expect(says()).toContain('What you changed is only on this screen.');
    const asked: string[] = [];
    let isSure = false;
    vi.stubGlobal('confirm', (text: string) => {
      asked.push(text);
      return isSure;
    });
    expect(copy.mayLeave()).toBe(false);
    isSure = true;
    expect(copy.mayLeave()).toBe(true);
    expect(asked[0]).toContain('Leave all the same?');
    const unload = (): boolean => {
      const event = new Event('beforeunload', { cancelable: true });
      dispatchEvent(event);
      return event.defaultPrevented;
    };
    expect(unload()).toBe(true);
    isFull = false;
    expect([unload(), copy.mayLeave(), asked.length]).toEqual([false, true, 2]);
    expect(keptKeys()).toHaveLength(1);
  });

  it('a page that is put away keeps it', async () => {
    page.answers.delete('/api/boards');
    name(opened(), 'One');
    dispatchEvent(new Event('pagehide'));
    expect(keptKeys()).toHaveLength(1);
  });
});

describe('what was kept at an earlier visit', () => {
  beforeEach(async () => {
    const design = opened();
    page.answers.delete('/api/boards');
    name(design, 'Kept');
    await rest();
    copy.closed();
    page.asked.length = 0;
    page.answers.set('/api/boards', { id: 'own' });
    expect(keptKeys()).toHaveLength(1);
  });

  it('is offered there and nowhere else, and becomes a board', async () => {
    opened('another');
    expect(says()).not.toContain('could not become a board then');
    copy.closed();
    opened();
    expect(says()).toContain('could not become a board then');
    press(copy.render(), 'Make a board of it');
    await settle();
    expect([made(), went, keptKeys()]).toEqual([['Kept'], ['/board/own'], []]);
  });

  it('is forgotten when that is wanted', () => {
    opened();
    press(copy.render(), 'Forget it');
    expect(keptKeys()).toEqual([]);
    expect(says()).not.toContain('could not become a board then');
  });

  it('stays where it is when that fails, and is tried again', async () => {
    opened();
    page.answers.set('/api/boards', refusal(503, 'store-read-only'));
    const offer = copy.render();
    press(offer, 'Make a board of it');
    press(offer, 'Make a board of it');
    await settle();
    expect([made(), keptKeys().length]).toEqual([['Kept'], 1]);
    expect(says()).toContain('Your copy could not be made');
    page.answers.set('/api/boards', { id: 'own' });
    press(copy.render(), 'Try again');
    await settle();
    expect([made(), went, keptKeys()]).toEqual([['Kept', 'Kept'], ['/board/own'], []]);
  });

  it('becomes a board also where the maker has left by then', async () => {
    opened();
    let answer = (_: object): void => {};
    page.answers.set('/api/boards', new Promise<object>((resolve) => (answer = resolve)));
    press(copy.render(), 'Make a board of it');
    copy.closed();
    answer({ id: 'own' });
    await settle();
    expect([went, keptKeys()]).toEqual([[], []]);
  });
});

it('a page that has gone makes nothing', async () => {
  const design = opened();
  name(design, 'One');
  copy.hostDisconnected();
  name(design, 'Two');
  await rest();
  dispatchEvent(new Event('pagehide'));
  expect([made(), went]).toEqual([[], []]);
});
