/** The page of a board joined to its talk: what is asked for on the page opens the talk's panel, until the page is left. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { PanelsBeside, TalkHereEvent, TalkThreadEvent } from '../../../web/board/index.ts';
import type { BoardSession } from '../../../web/sync/index.ts';
import { OpenPanelEvent } from '../../../web/talk/open-panel-event.ts';
import { type OpenTalk, startTalk } from '../../../web/talk/start-talk.ts';
import { openDesign } from '../../support/open-design.ts';
import { stubPage } from '../../support/page-globals.ts';
import { markupOf } from '../../support/template-text.ts';

/** An element, as far as the one that is heard needs it. */
class Voice {
  readonly style = {};
  readonly attributes = new Map<string, string>();
  isThere = false;
  setAttribute(name: string, value: string): void {
    this.attributes.set(name, value);
  }
  remove(): void {
    this.isThere = false;
  }
}

let screen: EventTarget;
let voices: Voice[];

beforeEach(() => {
  vi.useFakeTimers();
  stubPage();
  screen = new EventTarget();
  voices = [];
  vi.stubGlobal('addEventListener', screen.addEventListener.bind(screen));
  // Node's own takes no boolean there.
  vi.stubGlobal('removeEventListener', (kind: string, listener: EventListener, capture = false) =>
    screen.removeEventListener(kind, listener, { capture }),
  );
  vi.stubGlobal('document', {
    documentElement: { lang: 'en' },
    createElement: () => new Voice(),
    body: {
      append: (voice: Voice) => {
        voice.isThere = true;
        voices.push(voice);
      },
    },
  });
  // A browser whose database does not answer: the talk has nothing to read, and does not ask the server yet.
  vi.stubGlobal('indexedDB', { open: () => ({}) });
  vi.stubGlobal('WebSocket', class {});
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

function start() {
  const page = new EventTarget() as HTMLElement;
  const panels = new PanelsBeside();
  const session = {
    design: openDesign(),
    boardId: 'b',
    server: 'ws://127.0.0.1:1',
    people: [],
    hearOf: () => {},
  };
  let changes = 0;
  const talk = startTalk(
    page,
    { session: session as unknown as BoardSession, panels },
    { canTalk: true, isOwner: true },
    () => changes++,
  );
  return { page, panels, talk, changes: () => changes, asked: () => [panels.open.value, panels.wish.value] };
}

const SPOT = { on: 'peg', place: 2 } as const;

describe('the page and its talk', () => {
  it('[G1] what is asked about a place opens the talk there; a thread, and an entry of a panel, are opened too', () => {
    const { page, talk, asked } = start();
    page.dispatchEvent(new TalkHereEvent('say', SPOT));
    expect([talk.desk.spot, ...asked()]).toEqual([SPOT, 'talk', { kind: 'place', wants: 'say' }]);
    page.dispatchEvent(new TalkThreadEvent('t'));
    expect(asked()).toEqual(['talk', { kind: 'thread', thread: 't' }]);
    const at = { on: 'colour', id: 'g' } as const;
    page.dispatchEvent(new OpenPanelEvent('colours', at));
    expect(asked()).toEqual(['colours', { kind: 'entry', panel: 'colours', at }]);
    page.dispatchEvent(new OpenPanelEvent('gauge'));
    expect(asked()).toEqual(['gauge', null]);
    talk.dispose();
  });

  it('who does something else before an entry is there keeps the keyboard; a thread is shown all the same', () => {
    const { page, talk, asked } = start();
    for (const kind of ['pointerdown', 'keydown']) {
      page.dispatchEvent(new OpenPanelEvent('colours', { on: 'colour', id: 'g' }));
      screen.dispatchEvent(new Event(kind));
      expect(asked()).toEqual(['colours', null]);
    }
    page.dispatchEvent(new TalkThreadEvent('t'));
    screen.dispatchEvent(new Event('keydown'));
    expect(asked()).toEqual(['talk', { kind: 'thread', thread: 't' }]);
    talk.dispose();
  });

  it('[G2] marks are laid over both looks of the board, and over none where they are put away', () => {
    const { talk, changes } = start();
    expect(markupOf(talk.pins()).match(/slot="(?:pins|finished-pins)"/g)).toHaveLength(2);
    talk.desk.showPins(false);
    expect([talk.pins(), changes()]).toEqual(['', 1]);
    talk.dispose();
  });

  it('[G3] new remarks are said to who does not see the page, politely', () => {
    const { talk } = start();
    expect(voices.map(({ attributes, isThere }) => [attributes.get('aria-live'), isThere])).toEqual([
      ['polite', true],
    ]);
    talk.dispose();
  });

  const ENDS: Readonly<Record<string, (talk: OpenTalk) => void>> = {
    left: (talk) => talk.dispose(),
    'of a board that was deleted': (talk) => void talk.forget(),
  };
  it.each(Object.entries(ENDS))(
    'a page that is %s opens nothing more, and leaves nothing behind',
    (_, end) => {
      const { page, panels, talk, asked, changes } = start();
      page.dispatchEvent(new OpenPanelEvent('colours', { on: 'colour', id: 'g' }));
      const before = [...asked(), changes()];
      end(talk);
      page.dispatchEvent(new TalkHereEvent('say', SPOT));
      page.dispatchEvent(new TalkThreadEvent('t'));
      page.dispatchEvent(new OpenPanelEvent('gauge'));
      screen.dispatchEvent(new Event('keydown'));
      screen.dispatchEvent(new Event('pointerdown'));
      screen.dispatchEvent(new Event('online'));
      expect([...asked(), changes()]).toEqual(before);
      expect([talk.desk.spot, panels.wish.value === null, voices.map(({ isThere }) => isThere)]).toEqual([
        null,
        false,
        [false],
      ]);
    },
  );
});
