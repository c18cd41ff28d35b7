/** The board as a grid of which one cell stands for the whole. */
import { beforeAll, describe, expect, it } from 'vitest';
import { boardGrid } from '../../../web/board/board-grid.ts';
import { BoardKeys } from '../../../web/board/board-keys.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { boardHost } from '../../support/board-host.ts';
import { elementWith } from '../../support/template-elements.ts';

beforeAll(() => loadTexts('sheets'));

describe('the grid', () => {
  const { host, editor, asked } = boardHost();
  const heard: string[] = [];
  const drawn: string[] = [];
  const canvas = { invalidate: (layer: string) => drawn.push(layer) };
  const grid = (on: object | null = canvas) =>
    boardGrid({ ...host, canvas: on as never }, new BoardKeys(host), ({ type }) => heard.push(type));
  const cell = () => elementWith(grid(), { role: 'gridcell' });
  const row = () => elementWith(grid(), { role: 'row' }).attributes['aria-rowindex'];
  const columns = () => elementWith(grid(), { role: 'grid' }).attributes['aria-colcount'];

  it('says which knot of which row the keyboard is on, and of how many', () => {
    editor.moveTo({ on: 'knot', row: 1, k: 1 }, false);
    expect([row(), cell().attributes['aria-colindex'], columns()]).toEqual(['3', '2', '2']);
    expect(cell().attributes['aria-label']).toMatch(/row 2/i);
    expect(elementWith(grid(), { role: 'grid' }).attributes['aria-rowcount']).toBe('7');
  });

  it('has the strings at the bar as its first row', () => {
    editor.moveTo({ on: 'peg', place: 4 }, false);
    expect([row(), cell().attributes['aria-colindex'], columns()]).toEqual(['1', '5', '6']);
    expect(cell().attributes['aria-selected']).toBe('false');
  });

  it('says that a knot is selected', () => {
    editor.moveTo({ on: 'knot', row: 0, k: 0 }, false);
    editor.moveTo({ on: 'knot', row: 2, k: 1 }, true);
    expect(cell().attributes['aria-selected']).toBe('true');
  });

  it('hears keys and the clipboard, and shows whether it has the focus; a held space bar ends with it', () => {
    const all = elementWith(grid(), { role: 'grid' });
    for (const type of ['copy', 'cut', 'paste']) all.fire(type, { type });
    expect(heard).toEqual(['copy', 'cut', 'paste']);
    all.fire('focusin');
    expect(drawn).toEqual(['overlay']);
    elementWith(grid(null), { role: 'grid' }).fire('focusin');
    all.fire('focusout');
    all.fire('keyup', { key: ' ' });
    expect(asked.filter((one) => one.startsWith('space'))).toEqual(['space false', 'space false']);
  });
});
