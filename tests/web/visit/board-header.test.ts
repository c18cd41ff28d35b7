/** What the pages of one board have in common: whether it is saved, undo, notices, and the page without a board. */
import { html } from 'lit';
import { describe, expect, it } from 'vitest';
import type { BoardSession } from '../../../web/sync/index.ts';
import {
  emptyVisit,
  savedSign,
  savedStrip,
  undoButtons,
  visitNotices,
} from '../../../web/visit/board-header.ts';
import type { BoardVisit } from '../../../web/visit/board-visit.ts';
import { emptyState } from '../../../web/visit/empty-state.ts';
import { signOf } from '../../../web/visit/sign.ts';
import { openDesign, rowsOf, runAll } from '../../support/open-design.ts';
import { elementsOf, elementWith, type TemplateElement } from '../../support/template-elements.ts';

interface Now {
  readonly message?: string;
  readonly closeReason?: string | null;
  readonly aside?: unknown;
}
/** A visit as its page reads it. */
function visitOf({ message = '', closeReason, aside = null }: Now = {}) {
  const said: string[] = [];
  const session = closeReason === undefined ? null : { closeReason };
  const visit = { message, session, aside, say: (text: string) => said.push(text) } as unknown as BoardVisit;
  return { visit, said };
}
const alerts = (template: unknown): readonly string[] =>
  elementsOf(template)
    .filter(({ attributes }) => attributes.role === 'alert')
    .map(({ words }) => words);

describe('whether a board is saved', () => {
  const SIGNS = [
    'saved',
    'saving',
    'offline',
    'read-only',
    'damaged',
    'write-limit',
    'unkept',
    'viewing',
    'away',
    'coming',
  ] as const;

  it('is said in words, as a state that is read out; what is not well in one word, with a sentence to who listens', () => {
    const said = SIGNS.map((sign) => {
      const { attributes, words } = elementWith(savedSign(sign), { role: 'status' });
      expect(attributes['data-state']).toBe(sign);
      return words;
    });
    expect([said[0], said[2]]).toEqual(['Saved', 'OfflineOffline: your changes are kept here']);
    expect(new Set(said).size).toBe(said.length);
    expect(elementWith(savedSign('offline', 'restarted'), { role: 'status' }).words).toContain(
      'The server restarts',
    );
    expect(elementWith(savedSign('offline', 'revoked'), { role: 'status' }).words).toContain('kept here');
  });

  const session = (more: object): BoardSession =>
    ({
      saved: 'saved',
      keepsEdits: true,
      isSketch: false,
      isComing: false,
      isConnected: true,
      closeReason: null,
      ...more,
    }) as unknown as BoardSession;

  it('[W952] while the line is coming it is not offline, and who only looks hears that what is shown is of a while ago', () => {
    expect(signOf(session({}))).toBe('saved');
    expect(signOf(session({ isConnected: false, isComing: true, saved: 'offline' }))).toBe('coming');
    expect(signOf(session({ isConnected: false, saved: 'offline' }))).toBe('offline');
    expect(signOf(session({ keepsEdits: false }))).toBe('viewing');
    expect(signOf(session({ keepsEdits: false, isConnected: false }))).toBe('away');
    expect(signOf(session({ isSketch: true, isConnected: false }))).toBe('viewing');
    expect(signOf(session({ closeReason: 'deleted', isConnected: false }))).toBe('viewing');
  });

  it('[W951] the sentence is for what lies over the board; where all is well there is none', () => {
    const strip = (more: object) => elementWith(savedStrip(session(more), 'strip'), { slot: 'strip' });
    expect(strip({}).properties.said).toBe('');
    const away = { isConnected: false, saved: 'offline' };
    expect(strip(away).properties.said).toBe('Offline: your changes are kept here');
    expect(strip({ ...away, closeReason: 'busy' }).properties.said).toContain('The server is busy.');
  });
});

describe('undo and redo', () => {
  it('can be done while there is something to take back or to do again, and do it', () => {
    const design = openDesign();
    const buttons = (): readonly TemplateElement[] =>
      elementsOf(undoButtons(design)).filter(({ tag }) => tag === 'button');
    const isOff = (): readonly boolean[] => buttons().map(({ attributes }) => 'disabled' in attributes);
    expect(isOff()).toEqual([true, true]);
    const before = rowsOf(design)[0];
    runAll(design, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] });
    const tied = rowsOf(design)[0];
    expect(isOff()).toEqual([false, true]);
    buttons()[0]!.fire('click');
    expect([rowsOf(design)[0], isOff()]).toEqual([before, [true, false]]);
    buttons()[1]!.fire('click');
    expect([rowsOf(design)[0], isOff()]).toEqual([tied, [false, true]]);
    for (const { attributes } of buttons()) expect(attributes['aria-label']).toBe(attributes.title);
  });
});

describe('notices', () => {
  it('are none while all is well', () => {
    // What others do to one's own work is said by an element of its own, once there is something.
    const others = (now: Now = {}): readonly TemplateElement[] =>
      elementsOf(visitNotices(visitOf(now).visit)).filter(({ tag }) => tag !== 'lb-lost-notice');
    expect(others()).toEqual([]);
    expect(others({ closeReason: null })).toEqual([]);
  });

  it('say why the line was closed, and what there is to say until that is closed', () => {
    const { visit, said } = visitOf({ closeReason: 'revoked', message: 'The link was not made.' });
    expect(alerts(visitNotices(visit))).toEqual([
      'Your link to this board was taken back.',
      'The link was not made. ×',
    ]);
    elementWith(visitNotices(visit), { 'aria-label': 'Close' }).fire('click');
    expect(said).toEqual(['']);
  });

  it('show what other tabs put aside', () => {
    const { visit } = visitOf({ aside: { render: () => html`<p class="offer">Two copies</p>` } });
    expect(elementWith(visitNotices(visit), { class: 'offer' }).words).toBe('Two copies');
  });
});

describe('the page without a board', () => {
  const actions = html`<a href="/">All boards</a>`;
  const page = (now: Now) => {
    const template = emptyVisit(visitOf(now).visit, actions);
    expect(elementWith(template, { href: '/' }).words).toBe('All boards');
    return [
      elementWith(template, {}, 'svg').attributes.class,
      elementWith(template, { role: 'status' }).words,
    ];
  };

  it('says that the board comes, or why it does not; what was said of it goes before the line’s reason', () => {
    expect(page({})).toEqual(['loading', 'Opening the board …']);
    expect(page({ closeReason: null })).toEqual(['loading', 'Opening the board …']);
    expect(page({ closeReason: 'deleted' })[0]).toBe('gone');
    expect(page({ closeReason: 'revoked' })).toEqual(['gone', 'Your link to this board was taken back.']);
    expect(page({ message: 'No such board.' })).toEqual(['gone', 'No such board.']);
    expect(page({ message: 'No such board.', closeReason: 'revoked' })).toEqual(['gone', 'No such board.']);
  });

  it('its drawing is not spoken; ends hang in wait from the ring, or lie loose below it', () => {
    const drawing = (kind: 'loading' | 'gone') => {
      const template = emptyState(kind, 'x', actions);
      expect(elementWith(template, {}, 'svg').attributes['aria-hidden']).toBe('true');
      const ends = elementsOf(template).filter(({ attributes }) => attributes.class?.startsWith('end'));
      const across = (d: string): number => Number(/^M([\d.]+)/.exec(d)![1]);
      const hanging = ends.filter(({ attributes }) => attributes.class === 'end');
      expect(hanging.map(({ attributes }) => across(attributes.d!))).toEqual([34, 50, 66, 82]);
      return {
        loose: ends.length - hanging.length,
        turns: new Set(hanging.map(({ attributes }) => attributes.style)).size,
      };
    };
    // Each swings a little after the one before it.
    expect(drawing('loading')).toEqual({ loose: 0, turns: 4 });
    expect(drawing('gone')).toEqual({ loose: 4, turns: 1 });
  });
});
