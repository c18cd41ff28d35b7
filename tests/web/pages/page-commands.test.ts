/** The list of commands over a page: what is in it, and what each line does. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Command } from '../../../web/board/index.ts';
import { type BoardWays, openList } from '../../../web/pages/page-commands.ts';
import { currentLanguage, loadTexts, speak } from '../../../web/text/index.ts';
import { boardHost } from '../../support/board-host.ts';
import { stubPage } from '../../support/page-globals.ts';

/** The element of the list, as far as a page needs it. */
class List extends EventTarget {
  commands: readonly Command[] = [];
  page: Page | null = null;
  remove(): void {
    if (this.page !== null) this.page.list = null;
  }
}
class Page {
  list: List | null = null;
  querySelector(): List | null {
    return this.list;
  }
  append(list: List): void {
    this.list = list;
    list.page = this;
  }
}

let done: string[];
let page: Page;

beforeEach(async () => {
  done = [];
  page = new Page();
  stubPage();
  const document = globalThis.document as unknown as Record<string, unknown>;
  document.createElement = (tag: string) => {
    expect(tag).toBe('lb-command-list');
    return new List();
  };
  document.querySelectorAll = () => [];
  vi.stubGlobal('dispatchEvent', (event: Event) => void done.push(event.type));
  vi.stubGlobal('history', {
    pushState: (_: null, __: string, path: string) => void done.push(`page ${path}`),
  });
  vi.stubGlobal('PopStateEvent', Event);
  await Promise.all([loadTexts('sheets'), loadTexts('panels')]);
});
afterEach(() => vi.unstubAllGlobals());

function waysOf(): BoardWays & { readonly host: ReturnType<typeof boardHost> } {
  const host = boardHost();
  const say = (name: string) => (what?: string) => void done.push([name, what].join(' ').trim());
  const handles = { session: { boardId: 'kites' }, panels: { show: say('panel') } };
  return {
    host,
    board: host.host as never,
    handles: handles as never,
    go: say('go'),
    share: say('share'),
    inOut: say('in and out'),
  };
}
function listOf(ways: BoardWays | null): readonly Command[] {
  openList(page as never, ways);
  return page.list!.commands;
}
const line = (id: string, ways: BoardWays | null = waysOf()): Command => {
  page.list = null;
  const found = listOf(ways).find((command) => command.id === id);
  if (found === undefined) throw new RangeError(`no line is ${id}`);
  return found;
};

describe('the list over a page', () => {
  it('is opened once, and goes when it is closed', () => {
    openList(page as never, null);
    const first = page.list!;
    openList(page as never, null);
    expect(page.list).toBe(first);
    first.dispatchEvent(new Event('lb-close'));
    expect(page.list).toBeNull();
  });

  it('has of a page without a board the page alone, of a board everything, no line twice', () => {
    const bare = listOf(null).map(({ id }) => id);
    expect(bare.filter((id) => /^(panel|tool|in-out|textures)/.test(id))).toEqual([]);
    expect(bare).toEqual(expect.arrayContaining(['home', 'help', 'unit-mm', 'language-de']));
    page.list = null;
    const ids = listOf(waysOf()).map(({ id }) => id);
    expect(ids).toEqual(expect.arrayContaining([...bare, 'undo', 'panel-talk', 'print', 'textures']));
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('goes where its lines say, by the board’s own way where there is one', () => {
    for (const id of ['print', 'card', 'set', 'share', 'in-out', 'panel-talk', 'home', 'help'])
      line(id).run();
    expect(done).toEqual([
      'go /board/kites/print',
      'go /board/kites/card',
      'go /board/kites/set',
      'share',
      'in and out',
      'panel talk',
      'go /',
      'go /help',
    ]);
    done = [];
    line('help', null).run();
    expect(done).toEqual(['page /help', 'popstate']);
  });

  it('calls panels as the piece does: what hangs from no ring is not mounted', () => {
    const hung = line('panel-mounting').name;
    const ways = waysOf();
    ways.host.design.run({ kind: 'set-piece', patch: { begin: 'loose' } });
    expect(line('panel-mounting', ways).name).not.toBe(hung);
  });
});

describe('the settings in it', () => {
  it('another unit is kept, and the one that is shown says so', async () => {
    expect([line('unit-mm').why, line('unit-in').why]).toEqual(['It is so already.', null]);
    await line('unit-in').run();
    expect(done).toEqual(['lb-unit']);
    expect([line('unit-mm').why, line('unit-in').why]).toEqual([null, 'It is so already.']);
  });

  it('another language is spoken, then kept; where its words cannot be had, nothing changes', async () => {
    expect(line('language-en').why).not.toBeNull();
    await line('language-de').run();
    expect([currentLanguage(), localStorage.getItem('larkboard.language')]).toEqual(['de', 'de']);
    expect([line('language-de').why === null, line('language-en').why]).toEqual([false, null]);
    await speak('en');
    const { documentElement } = globalThis.document;
    Object.defineProperty(documentElement, 'lang', {
      set: () => {
        throw new TypeError('not to be had');
      },
    });
    (globalThis.document as unknown as Record<string, unknown>).querySelector = () => null;
    localStorage.removeItem('larkboard.language');
    await line('language-de').run();
    expect(localStorage.getItem('larkboard.language')).toBeNull();
  });

  it('textures are kept on or off, and told to the board', () => {
    const textures: unknown[] = [];
    const ways = waysOf();
    ways.host.host.dispatchEvent = (event: Event) => {
      textures.push((event as unknown as { textures: unknown }).textures);
      return true;
    };
    const off = line('textures', ways).name;
    line('textures', ways).run();
    expect(localStorage.getItem('larkboard.textures')).toBe('on');
    expect(line('textures', ways).name).not.toBe(off);
    line('textures', ways).run();
    expect(textures).toEqual([expect.anything(), null]);
    expect(line('textures', ways).name).toBe(off);
  });
});
