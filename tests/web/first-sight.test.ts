/** What runs before the page: what it shows, what it asks the server for ahead, and what it leaves alone. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { firstStage } from '../../web/board/first-view.ts';
import { MapShelf } from '../support/map-shelf.ts';

interface Piece {
  textContent: string;
  innerHTML: string;
  readonly style: Record<string, string>;
  readonly firstElementChild: { readonly style: Record<string, string> };
}
const piece = (): Piece => ({ textContent: '', innerHTML: '', style: {}, firstElementChild: { style: {} } });

interface Sight {
  readonly path: string;
  readonly hash?: string;
  /** What the server sent along. */
  readonly sent?: string;
  /** Parts that the HTML has not. */
  readonly without?: readonly string[];
  readonly hasWorker?: boolean;
  readonly answer?: (path: string) => Response;
}

const GLANCE = { title: 'Kites', svg: '<svg></svg>', strings: 12, rows: 40 };
const AT = '/api/boards/kites';

let pieces: Record<string, Piece>;
let classes: string[];
let asked: string[];
let page: EventTarget;
let root: { lang: string; clientWidth: number; clientHeight: number };

/** Answers that the page would take in the place of asking. */
const ahead = (): Map<string, Promise<Response>> =>
  (globalThis as { larkboardAhead?: Map<string, Promise<Response>> }).larkboardAhead ?? new Map();

async function run({ path, hash = '', sent, without = [], hasWorker = false, answer }: Sight): Promise<void> {
  vi.stubGlobal('location', { pathname: path, hash });
  vi.stubGlobal('navigator', { languages: ['en'], ...(hasWorker && { serviceWorker: { controller: {} } }) });
  vi.stubGlobal('document', {
    documentElement: root,
    createTreeWalker: () => ({}),
    querySelector: (selector: string) => {
      const name = selector.slice('#sight .'.length);
      return without.includes(name) ? null : pieces[name];
    },
    getElementById: (id: string) =>
      id === 'sight'
        ? { classList: { add: (name: string) => classes.push(name) } }
        : id === 'answers' && sent !== undefined
          ? { textContent: sent }
          : null,
  });
  vi.stubGlobal(
    'fetch',
    async (address: string, init?: { readonly method: string; readonly body: string }) => {
      asked.push([init?.method ?? 'GET', address, init?.body].join(' ').trim());
      return answer?.(address) ?? Response.json(GLANCE);
    },
  );
  vi.resetModules();
  await import('../../web/first-sight.ts');
}

beforeEach(() => {
  pieces = { stage: piece(), title: piece(), words: piece() };
  classes = [];
  asked = [];
  page = new EventTarget();
  root = { lang: '', clientWidth: 1440, clientHeight: 900 };
  vi.stubGlobal('localStorage', new MapShelf());
  vi.stubGlobal('devicePixelRatio', 2);
  vi.stubGlobal('addEventListener', page.addEventListener.bind(page));
  Reflect.deleteProperty(globalThis, 'larkboardAhead');
});
afterEach(() => {
  Reflect.deleteProperty(globalThis, 'larkboardAhead');
  vi.unstubAllGlobals();
});

describe('before the page is there', () => {
  it('a page of no board says that it is coming, and asks for nothing', async () => {
    await run({ path: '/help' });
    expect([pieces.words!.textContent, root.lang, asked]).toEqual(['Opening Larkboard …', 'en', []]);
    await run({ path: '/board/kites/print', without: ['words'] });
    expect([asked, ahead().size]).toEqual([[], 0]);
  });

  it('[W1022] a board is asked for with who one is there, then for its picture, which stands where the board will', async () => {
    await run({ path: '/board/kites/' });
    expect(pieces.words!.textContent).toBe('Opening the board …');
    await expect.poll(() => classes).toEqual(['has-board']);
    expect(asked).toEqual([`GET ${AT}`, `GET ${AT}/me`, `GET ${AT}/sight`]);
    expect([...ahead().keys()]).toEqual([`GET ${AT}`, `GET ${AT}/me`]);
    const { stage, title } = pieces as { stage: Piece; title: Piece };
    expect([title.textContent, stage.innerHTML]).toEqual(['Kites', GLANCE.svg]);
    const box = firstStage({ width: 1440, height: 900 });
    expect(stage.style).toMatchObject({
      left: `${box.left}px`,
      top: `${box.top}px`,
      width: `${box.width}px`,
    });
    const picture = stage.firstElementChild.style;
    expect(Number.parseFloat(picture.width!)).toBeGreaterThan(100);
    // The window becomes a phone's: so does the picture.
    Object.assign(root, { clientWidth: 390, clientHeight: 844 });
    page.dispatchEvent(new Event('resize'));
    expect(stage.style).toMatchObject({ left: '0px', top: '45px', width: '390px' });
  });

  it('[B244] the picture stands where the maker left the board', async () => {
    await run({ path: '/board/kites' });
    await expect.poll(() => classes).toEqual(['has-board']);
    const before = pieces.stage!.firstElementChild.style.top;
    localStorage.setItem('larkboard.work.kites.view', '[60,5,20]');
    await run({ path: '/board/kites' });
    await expect.poll(() => classes).toHaveLength(2);
    expect(pieces.stage!.firstElementChild.style.top).not.toBe(before);
  });

  it('a link is come in by first, once, and all else is asked for after that', async () => {
    const secret = 'k'.repeat(32);
    await run({ path: '/board/kites', hash: `#${secret}` });
    await expect.poll(() => classes).toEqual(['has-board']);
    expect(asked[0]).toBe(`POST ${AT}/enter {"secret":"${secret}"}`);
    expect(asked.slice(1)).toEqual([`GET ${AT}`, `GET ${AT}/me`, `GET ${AT}/sight`]);
    expect([...ahead().keys()]).toContain(`POST ${AT}/enter`);
  });

  it('who was here before has the board in the browser: no picture is asked for', async () => {
    await run({ path: '/board/kites', hasWorker: true });
    await Promise.all(ahead().values());
    expect([asked, classes]).toEqual([[`GET ${AT}`, `GET ${AT}/me`], []]);
  });

  it('where the server says no, or cannot be reached, nothing is shown, and the page hears of it', async () => {
    const no = (): Response => Response.json({}, { status: 404 });
    await run({ path: '/board/kites', answer: no });
    expect((await ahead().get(`GET ${AT}`))!.status).toBe(404);
    await expect.poll(() => asked).toHaveLength(3);
    const away = (): Response => {
      throw new TypeError('no network');
    };
    await run({ path: '/board/kites', answer: away });
    await expect(ahead().get(`GET ${AT}`)).rejects.toThrow('no network');
    expect(classes).toEqual([]);
  });

  it('[W1022] what the server sent along is not asked for', async () => {
    const sent = { [AT]: { id: 'kites' }, [`${AT}/sight`]: GLANCE };
    await run({ path: '/board/kites', sent: JSON.stringify(sent) });
    expect([asked, classes, [...ahead().keys()]]).toEqual([[], ['has-board'], [`GET ${AT}`]]);
    expect(await (await ahead().get(`GET ${AT}`))!.json()).toEqual({ id: 'kites' });
  });

  it('HTML without a stage, or with nothing sent, is no fault', async () => {
    await run({
      path: '/board/kites',
      sent: JSON.stringify({ [`${AT}/sight`]: GLANCE }),
      without: ['stage'],
    });
    await run({
      path: '/board/kites',
      sent: JSON.stringify({ [`${AT}/sight`]: GLANCE }),
      without: ['title'],
    });
    expect([classes, asked]).toEqual([[], []]);
    await run({ path: '/board/kites', sent: '' });
    await expect.poll(() => classes).toEqual(['has-board']);
  });
});
