/** The panels as a sheet on a phone: its height by its grip, by key and by the browser's way back. */
import type { LitElement } from 'lit';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { SheetHeight } from '../../../web/board/index.ts';
import { Subject } from '../../../web/context/index.ts';
import { PanelSheet } from '../../../web/panels/panel-sheet.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { elementWith } from '../../support/template-elements.ts';

const ROOM = 800;

/** The panels' element, as far as a sheet needs it. */
class Host {
  offsetHeight = ROOM / 2;
  offsetParent: { readonly clientHeight: number } | null = { clientHeight: ROOM };
  style: Record<string, string> = {};
  attributes: Record<string, string> = {};
  focused = 0;
  renders = 0;
  readonly updateComplete = Promise.resolve(true);
  readonly renderRoot = { querySelector: () => ({ focus: () => (this.focused += 1) }) };

  addController(): void {}
  requestUpdate(): void {
    this.renders += 1;
  }
  setAttribute(name: string, value: string): void {
    this.attributes[name] = value;
  }
  removeAttribute(name: string): void {
    if (name === 'style') this.style = {};
  }
}

/** Entries of the browser's history; going back tells of it. */
class History {
  readonly entries: unknown[] = [null];
  get state(): { readonly isSheet?: boolean } | null {
    return this.entries.at(-1) as null;
  }
  pushState(state: unknown): void {
    this.entries.push(state);
  }
  back(): void {
    this.entries.pop();
    page.dispatchEvent(new Event('popstate'));
  }
}

let page: EventTarget;
let history: History;
let isNarrow = true;
let host: Host;
let sheet: Subject<SheetHeight>;
let panel: PanelSheet;

beforeEach(async () => {
  stubPage();
  await loadTexts('panels');
  page = new EventTarget();
  history = new History();
  isNarrow = true;
  vi.stubGlobal('history', history);
  vi.stubGlobal('innerHeight', ROOM);
  vi.stubGlobal('addEventListener', page.addEventListener.bind(page));
  vi.stubGlobal('removeEventListener', page.removeEventListener.bind(page));
  vi.stubGlobal('matchMedia', () => ({
    get matches() {
      return isNarrow;
    },
  }));
  host = new Host();
  sheet = new Subject<SheetHeight>('closed');
  panel = new PanelSheet(host as unknown as LitElement);
  panel.hostConnected();
  panel.of(sheet);
});
afterEach(() => vi.unstubAllGlobals());

const grip = () => elementWith(panel.render(), { class: 'grip' });
/** A finger on the grip: where it comes down, where it goes, and lets go there. */
function drag(from: number, ...ways: readonly number[]): void {
  let captured: unknown = null;
  const currentTarget = { setPointerCapture: (id: number) => (captured = id) };
  grip().fire('pointerdown', { clientY: from, pointerId: 7, currentTarget });
  expect(captured).toBe(7);
  for (const clientY of ways) {
    grip().fire('pointermove', { clientY });
    if (host.style.height !== undefined) host.offsetHeight = Number.parseFloat(host.style.height);
  }
  grip().fire('pointerup');
  grip().fire('click');
}

describe('the sheet on a phone', () => {
  it('has an entry of the history while it is open, one however high it is, and gives it back when it is closed', async () => {
    sheet.set('half');
    sheet.set('full');
    expect(history.entries).toEqual([null, { isSheet: true }]);
    await host.updateComplete;
    expect([host.focused, host.attributes.sheet, host.renders]).toEqual([1, 'full', 2]);
    elementWith(panel.render(), { class: 'close' }).fire('click');
    expect([sheet.value, history.entries]).toEqual(['closed', [null]]);
  });

  it('is closed by the browser’s way back, and not opened by another page’s', () => {
    sheet.set('half');
    history.back();
    expect([sheet.value, history.entries]).toEqual(['closed', [null]]);
    history.entries.push({ isSheet: true });
    sheet.set('half');
    page.dispatchEvent(new Event('popstate'));
    expect(sheet.value).toBe('half');
  });

  it('beside the board leaves the history alone', () => {
    isNarrow = false;
    sheet.set('full');
    sheet.set('closed');
    expect([history.entries, host.attributes.sheet, host.focused]).toEqual([[null], 'closed', 0]);
  });

  it('goes by its grip to full and back to half, and says which it is', () => {
    sheet.set('half');
    expect(grip().attributes['aria-expanded']).toBe('false');
    grip().fire('click');
    expect([sheet.value, grip().attributes['aria-expanded']]).toEqual(['full', 'true']);
    grip().fire('click');
    expect(sheet.value).toBe('half');
  });

  it.each([
    ['half', 'ArrowUp', 'full'],
    ['full', 'ArrowUp', 'full'],
    ['full', 'ArrowDown', 'half'],
    ['half', 'ArrowDown', 'closed'],
    ['full', 'Escape', 'closed'],
    ['half', 'x', 'half'],
  ] as const)('from %s goes by %s to %s', (from, key, to) => {
    sheet.set(from);
    elementWith(panel.render(), { class: 'handle' }).fire('keydown', { key });
    expect(sheet.value).toBe(to);
  });

  it.each([
    ['far down', [450, 780], 'closed'],
    ['a little up', [380], 'half'],
    ['to the top', [300, 20], 'full'],
    ['below the page', [1300], 'closed'],
  ] as const)(
    'dragged %s becomes what is nearest, and the press that ends it counts for nothing',
    (_, ways, to) => {
      sheet.set('half');
      drag(400, ...ways);
      expect([sheet.value, host.style]).toEqual([to, {}]);
    },
  );

  it('a finger that hardly moves presses; one that is only lifted does nothing', () => {
    sheet.set('half');
    drag(400, 403, 396);
    expect([sheet.value, host.style]).toEqual(['full', {}]);
    grip().fire('pointermove', { clientY: 10 });
    grip().fire('pointercancel');
    expect([sheet.value, host.style]).toEqual(['full', {}]);
  });

  it('lies over the board while it is dragged, as high as the finger is', () => {
    sheet.set('half');
    grip().fire('pointerdown', {
      clientY: 400,
      pointerId: 1,
      currentTarget: { setPointerCapture: () => {} },
    });
    grip().fire('pointermove', { clientY: 310 });
    expect(host.style).toMatchObject({ position: 'absolute', height: '490px' });
    // Without a box that it lies in, the window counts.
    host.offsetParent = null;
    host.offsetHeight = 620;
    grip().fire('pointerup');
    expect(sheet.value).toBe('full');
  });

  it('follows one board’s height at a time, and again after it was away', () => {
    const other = new Subject<SheetHeight>('full');
    panel.of(other);
    sheet.set('half');
    expect(host.attributes.sheet).toBe('full');
    panel.hostDisconnected();
    other.set('half');
    page.dispatchEvent(new Event('popstate'));
    expect([host.attributes.sheet, other.value]).toEqual(['full', 'half']);
    panel.hostConnected();
    expect(host.attributes.sheet).toBe('half');
  });

  it('without a board’s height does nothing', () => {
    const bare = new PanelSheet(host as unknown as LitElement);
    bare.hostConnected();
    const handle = elementWith(bare.render(), { class: 'handle' });
    handle.fire('keydown', { key: 'ArrowUp' });
    elementWith(bare.render(), { class: 'grip' }).fire('click');
    page.dispatchEvent(new Event('popstate'));
    bare.hostDisconnected();
    expect(sheet.value).toBe('closed');
  });
});
