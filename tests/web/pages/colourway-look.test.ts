/** A board looked at in a colourway: read with other colours from the same design, and never written. */
import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { compactDesign } from '../../../engine/document/index.ts';
import { type Board, dressBoard } from '../../../engine/index.ts';
import { ColourwayLook, tellAddress } from '../../../web/pages/colourway-look.ts';
import type { BoardSession } from '../../../web/sync/index.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { elementsOf, elementWith } from '../../support/template-elements.ts';

beforeAll(() => loadTexts('panels'));
afterEach(() => vi.unstubAllGlobals());

const BOARD: Board = {
  ...sampleBoard(),
  colourways: [
    { id: 'w', name: 'Moss', colours: [{ id: 'g', name: 'moss', hex: '#446633' }] },
    { id: 'v', name: '', colours: [{ id: 'r', name: 'brick', hex: '#993311' }] },
  ],
};

function look(colourway: string, board = BOARD) {
  const own = openDesign(board);
  const chosen: (string | null)[] = [];
  const told: unknown[] = [];
  const listeners = new Set<() => void>();
  const session = {
    design: own,
    setPresence: (patch: unknown) => told.push(patch),
    subscribe: (listener: () => void) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  } as unknown as BoardSession;
  const shown = new ColourwayLook(session, colourway, (one) => chosen.push(one));
  const changed = (): void => {
    for (const listener of [...listeners]) listener();
  };
  return { own, shown, chosen, told, changed };
}

describe('a board in a colourway', () => {
  it('[X94] is the design read in its colours; the design keeps its own', () => {
    const { own, shown } = look('w');
    expect(shown.design.snapshot.board).toEqual(dressBoard(BOARD, BOARD.colourways[0]!));
    expect(shown.design.snapshot.board.palette[1]).toMatchObject({ name: 'moss', hex: '#446633' });
    expect(own.snapshot.board.palette[1]).toMatchObject({ name: 'green', hex: '#22aa44' });
    // As long as nothing changes it is the same object, so that nothing is drawn anew.
    expect(shown.design.snapshot).toBe(shown.design.snapshot);
  });

  it('[X94] what others do is seen in it at once, until one looks elsewhere', () => {
    const { own, shown } = look('w');
    const seen: string[] = [];
    shown.design.subscribe(({ board }) => seen.push(`${board.pattern.rows} ${board.palette[1]!.hex}`));
    const before = shown.design.snapshot;
    runAll(own, { kind: 'insert-row-pairs', at: 0, count: 1 });
    expect(seen).toEqual(['6 #446633']);
    expect(shown.design.snapshot).not.toBe(before);
    shown.dispose();
    runAll(own, { kind: 'insert-row-pairs', at: 0, count: 1 });
    expect(seen).toHaveLength(1);
  });

  it('[W970] is told to the others as open, until one looks elsewhere', () => {
    const { shown, told } = look('w');
    expect(told).toEqual([{ open: { kind: 'colourway', id: 'w' } }]);
    shown.dispose();
    expect(told.at(-1)).toEqual({ open: null });
  });

  it('[W1042] goes on in the next generation of the document with the design', () => {
    const { own, shown, changed } = look('w');
    own.moveTo(compactDesign(own.doc)!);
    changed();
    const seen: number[] = [];
    shown.design.subscribe(({ board }) => seen.push(board.pattern.rows));
    runAll(own, { kind: 'insert-row-pairs', at: 0, count: 1 });
    expect([seen, shown.design.doc === own.doc]).toEqual([[6], true]);
    shown.dispose();
    const { doc } = shown.design;
    own.moveTo(compactDesign(own.doc)!);
    changed();
    expect(shown.design.doc).toBe(doc);
  });

  it('[X95] refuses every command and writes nothing', () => {
    const { own, shown } = look('w');
    const before = Y.encodeStateAsUpdate(own.doc);
    expect(shown.design.run()).toMatchObject({ ok: false, error: { kind: 'unknown-command' } });
    expect([shown.design.undo(), shown.design.canUndo]).toEqual([false, false]);
    expect(Y.encodeStateAsUpdate(own.doc)).toEqual(before);
    expect(shown.why).toContain('go back to the board first');
  });

  it('[X95] says which it is and goes back; a colourway without a name is called by its id', () => {
    const { shown, chosen } = look('w');
    expect(elementWith(shown.render(), {}, 'span').words).toContain('“Moss”');
    expect(elementWith(look('v').shown.render(), {}, 'span').words).toContain('“v”');
    elementWith(shown.render(), { class: 'primary' }).fire('click');
    const options = elementsOf(shown.render()).filter(({ tag }) => tag === 'option');
    expect(options.map(({ attributes, words }) => [attributes.value, words])).toEqual([
      ['', 'its own colours'],
      ['w', 'Moss'],
      ['v', 'v'],
    ]);
    const select = elementWith(shown.render(), {}, 'select');
    expect(select.properties.value).toBe('w');
    select.fire('change', { target: { value: 'v' } });
    select.fire('change', { target: { value: '' } });
    expect(chosen).toEqual([null, 'v', null]);
  });

  it('[X95] one that is gone, or never was, shows the board as it is and says so', () => {
    const { own, shown } = look('w');
    runAll(own, { kind: 'remove-colourway', id: 'w' });
    for (const one of [shown, look('nothing of ours').shown]) {
      expect(one.design.colourway).toBeNull();
      expect(one.design.snapshot.board.palette).toEqual(BOARD.palette);
      expect(elementWith(one.render(), {}, 'span').words).toContain('is gone');
      expect(elementWith(one.render(), {}, 'select').properties.value).toBe('');
    }
  });
});

describe('the address', () => {
  it('[X94] names the colourway that is looked at, keeps all else, and makes no step back', () => {
    const told: unknown[] = [];
    vi.stubGlobal('location', { href: 'https://example.org/board/x?panel=talk&colourway=old#secret' });
    vi.stubGlobal('history', {
      state: { from: 'start' },
      replaceState: (...of: unknown[]) => told.push([of[0], String(of[2])]),
    });
    tellAddress('w & v');
    tellAddress(null);
    expect(told).toEqual([
      [{ from: 'start' }, 'https://example.org/board/x?panel=talk&colourway=w+%26+v#secret'],
      [{ from: 'start' }, 'https://example.org/board/x?panel=talk#secret'],
    ]);
  });
});
