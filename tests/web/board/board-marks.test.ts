/** What lies over the pattern: one's own marks, and where the others are. */
import { describe, expect, it } from 'vitest';
import { type MarksSource, othersOf, overlayOf } from '../../../web/board/board-marks.ts';
import { Subject } from '../../../web/context/index.ts';
import { boardHost } from '../../support/board-host.ts';

function marks(more: Partial<MarksSource> = {}, how?: Parameters<typeof boardHost>[1]) {
  const { editor } = boardHost(undefined, how);
  const source: MarksSource = {
    editor,
    isPaths: false,
    lit: null,
    hover: null,
    hoverString: null,
    hasFocus: true,
    ...more,
  };
  return { editor, overlay: (now: Partial<MarksSource> = {}) => overlayOf({ ...source, ...now }) };
}
const HOVER = { row: 0, k: 0 };

describe('one’s own marks', () => {
  it('the cursor is on a knot, or on a peg', () => {
    const { editor, overlay } = marks();
    expect(overlay()).toMatchObject({ cursor: { row: 0, k: 0 }, peg: null, hasFocus: true });
    editor.moveTo({ on: 'peg', place: 3 }, false);
    expect(overlay()).toMatchObject({ cursor: null, peg: 3 });
  });

  it('[B384] what a press would tie is told as long as one ties, and not in the middle of a stroke', () => {
    const { editor, overlay } = marks({ hover: HOVER });
    editor.setMirror({ upright: 'middle', level: 2 });
    expect(overlay()).toMatchObject({ ink: editor.ink, isFilling: false, mirror: editor.mirror });
    for (const tool of ['select', 'trace', 'pick', 'pan'] as const) {
      editor.choose(tool);
      expect([tool, overlay().ink]).toEqual([tool, null]);
    }
    editor.choose('line');
    expect(overlay()).toMatchObject({ ink: editor.ink, isFilling: false });
    editor.press(HOVER);
    expect(overlay().ink).toBeNull();
    editor.release();
    editor.choose('fill');
    expect(overlay()).toMatchObject({ ink: editor.ink, isFilling: true });
  });

  it('with the hand nothing shows under the pointer', () => {
    const { editor, overlay } = marks({ hover: HOVER });
    expect(overlay().hover).toEqual(HOVER);
    editor.choose('pan');
    expect(overlay().hover).toBeNull();
  });

  it('who only looks is shown nothing that a press would tie', () => {
    const { overlay } = marks({ hover: HOVER }, { canEdit: false });
    expect(overlay().ink).toBeNull();
  });

  it('a followed string is lit with what panels light; one under the pointer only among ribbons', () => {
    const { editor, overlay } = marks({ lit: { knots: [HOVER] }, hoverString: 1 });
    expect(overlay().lit).toEqual({ knots: [HOVER] });
    expect(overlay({ isPaths: true }).lit).toEqual({ knots: [HOVER], strings: [1] });
    editor.traceHere();
    expect(overlay({ isPaths: true }).lit).toEqual({ knots: [HOVER], strings: [editor.traced, 1] });
  });
});

describe('the others', () => {
  const person = (name: string) => ({ id: name, name, hex: '#112233' });

  it('are shown where their knot and their block are now; oneself is not', () => {
    const { design, editor } = boardHost();
    const [from, to] = [design.addressOf(2, 0)!, design.addressOf(4, 1)!];
    const people = new Subject([
      { self: true, presence: { person: person('Kit'), cursor: from, selection: null, view: null } },
      { self: false, presence: { person: person('Fay'), cursor: from, selection: { from, to }, view: null } },
      { self: false, presence: { person: person('Wes'), cursor: null, selection: null, view: null } },
    ]);
    const others = () => othersOf({ design, people } as never, editor.model.stagger);
    expect(others().map(({ name, at, selection }) => [name, at, selection?.fromRow])).toEqual([
      ['Fay', { row: 2, k: 0 }, 2],
      ['Wes', null, undefined],
    ]);
    editor.insertRows('above');
    expect(others()[0]).toMatchObject({ at: { row: 4, k: 0 }, selection: { fromRow: 4 } });
    editor.design.undo();
    editor.moveTo({ on: 'knot', row: 2, k: 0 }, false);
    editor.deleteRows();
    expect(others()[0]).toMatchObject({ at: null, selection: null });
  });
});
