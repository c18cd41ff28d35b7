/** Everything a maker can do on the board: when it can be done, when it shows as on, and what it does. */
import { describe, expect, it } from 'vitest';
import { actionOf, BOARD_ACTIONS, isAllowed } from '../../../web/board/board-actions.ts';
import { boardHost } from '../../support/board-host.ts';

const allowed = (host: Parameters<typeof isAllowed>[1]): readonly string[] =>
  BOARD_ACTIONS.filter((action) => isAllowed(action, host)).map(({ id }) => id);
const run = (id: string, host: Parameters<typeof isAllowed>[1]): void => actionOf(id).run(host);

describe('actions', () => {
  it('are found by their id, and each id is one action', () => {
    expect(new Set(BOARD_ACTIONS.map(({ id }) => id)).size).toBe(BOARD_ACTIONS.length);
    expect(() => actionOf('nothing of ours')).toThrow(RangeError);
  });

  it('who only looks is allowed none that edits', () => {
    const { host } = boardHost(undefined, { canEdit: false });
    const edits = BOARD_ACTIONS.filter(({ edits: isEdit }) => isEdit === true).map(({ id }) => id);
    expect(allowed(host).filter((id) => edits.includes(id))).toEqual([]);
    expect(allowed(host)).toEqual(expect.arrayContaining(['copy', 'select-all', 'tool-pan', 'zoom-in']));
  });

  it('what needs a selection waits for one; a knot under the cursor is enough to copy', () => {
    const { host, editor } = boardHost();
    const needy = [
      'tie-selection',
      'repeat-down',
      'repeat-right',
      'move-up',
      'move-down',
      'move-left',
      'move-right',
    ];
    expect(allowed(host).filter((id) => needy.includes(id))).toEqual([]);
    expect(allowed(host)).toContain('copy');
    editor.selectAll();
    expect(allowed(host)).toEqual(expect.arrayContaining(needy));
  });

  it('on a peg nothing is done to a knot', () => {
    const { host, editor } = boardHost();
    editor.moveTo({ on: 'peg', place: 1 }, false);
    for (const id of ['copy', 'untie', 'delete-rows', 'mirror-here', 'pick-here', 'trace-here', 'select-row'])
      expect([id, allowed(host).includes(id)]).toEqual([id, false]);
  });

  it('undo and redo come with what there is to undo', () => {
    const { host, rows } = boardHost();
    expect(allowed(host)).not.toContain('undo');
    run('select-all', host);
    run('knot-1', host);
    run('tie-selection', host);
    expect(rows()[0]).toBe('f f f');
    run('undo', host);
    expect([rows()[0], allowed(host).includes('redo')]).toEqual(['- - -', true]);
    run('redo', host);
    run('untie', host);
    expect(rows()[0]).toBe('- - -');
  });

  it('letting go ends a choice of a colour first, and else the selection', () => {
    const { host, editor, asked } = boardHost();
    expect(allowed(host)).not.toContain('deselect');
    run('select-all', host);
    expect(allowed(host)).toContain('deselect');
    run('deselect', { ...host, editor, isSwapping: true });
    expect([asked, editor.selection === null]).toEqual([['swap'], false]);
    run('deselect', host);
    expect(editor.selection).toBeNull();
  });
});

describe('what shows as on', () => {
  const on = (host: Parameters<typeof isAllowed>[1]): readonly string[] =>
    BOARD_ACTIONS.filter(({ isOn }) => isOn?.(host) === true).map(({ id }) => id);

  it('is the knot, the tool and the look that are chosen, and nothing else', () => {
    const { host } = boardHost();
    run('knot-3', host);
    run('tool-fill', host);
    expect(on(host)).toEqual(['knot-3', 'tool-fill', 'look-chart']);
    run('show', host);
    expect(on({ ...host, editor: host.editor, look: 'paths', isBeside: true })).toEqual([
      'tool-fill',
      'show',
      'look-paths',
      'beside',
    ]);
  });

  it('[B55] mirrored tying is on with either axis, and can be put off', () => {
    const { host } = boardHost();
    expect(allowed(host)).not.toContain('mirror-off');
    for (const id of ['mirror', 'mirror-here', 'mirror-row']) {
      run(id, host);
      expect([id, on(host).includes('mirror'), allowed(host).includes('mirror-off')]).toEqual([
        id,
        true,
        true,
      ]);
      run('mirror-off', host);
      expect(on(host)).not.toContain('mirror');
    }
    run('mirror-row', host);
    run('mirror', host);
    expect(on(host)).not.toContain('mirror');
  });
});

describe('what they do', () => {
  it('rows and strings go in beside the cursor, and out again', () => {
    const { host, design } = boardHost();
    const size = (): readonly number[] => {
      const { pattern } = design.snapshot.board;
      return [pattern.colours.length, pattern.rows];
    };
    for (const id of ['rows-above', 'rows-below', 'strings-left', 'strings-right']) run(id, host);
    expect(size()).toEqual([10, 10]);
    for (const id of ['delete-rows', 'delete-strings']) run(id, host);
    expect(size()).toEqual([8, 8]);
  });

  it('a selection repeats and moves', () => {
    const { host, editor, rows } = boardHost();
    run('knot-1', host);
    editor.tieHere();
    run('select-row', host);
    run('repeat-down', host);
    expect(rows().filter((row) => row.startsWith('f'))).toHaveLength(3);
    run('select-places', host);
    run('repeat-right', host);
    expect(rows()[0]).toBe('f f f');
    run('undo', host);
    for (const id of ['move-down', 'move-up', 'move-right', 'move-left']) run(id, host);
    expect(editor.selection).toMatchObject({ fromRow: 0, fromPlace: 0 });
  });

  it('what is the board’s own business is asked of it', () => {
    const { host, editor, asked } = boardHost();
    for (const id of ['copy', 'cut', 'paste', 'swap', 'look-paths', 'beside', 'zoom-in', 'zoom-out'])
      run(id, host);
    for (const id of ['fit', 'fit-width', 'commands', 'shortcuts', 'menu', 'pick-here', 'trace-here'])
      run(id, host);
    expect(asked).toEqual([
      'copy false',
      'copy true',
      'paste',
      'swap',
      'look "paths"',
      'beside true',
      'zoom 1.25',
      'zoom 0.8',
      'fit "all"',
      'fit "width"',
      'commands',
      'shortcuts',
      'menu',
    ]);
    expect(editor.traced).not.toBeNull();
  });

  it('[G1] something can be said of a knot and of a peg, and read where something was said', () => {
    const { host, editor, asked, remarks } = boardHost();
    expect(allowed(host)).toContain('say-here');
    expect(allowed(host)).not.toContain('remarks-here');
    run('say-here', host);
    editor.moveTo({ on: 'peg', place: 2 }, false);
    remarks.set(JSON.stringify(editor.spot), 1);
    expect(allowed(host)).toContain('remarks-here');
    run('remarks-here', host);
    expect(asked).toEqual([
      'lb-talk-here {"on":"knot","row":0,"k":0,"left":0,"right":1}',
      'lb-talk-here {"on":"peg","place":2}',
    ]);
    expect(allowed(boardHost(undefined, { canTalk: false }).host)).not.toContain('say-here');
    expect(allowed({ ...host, editor, talk: null })).not.toContain('say-here');
  });
});
