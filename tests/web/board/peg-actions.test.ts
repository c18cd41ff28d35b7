/** What the menu of a peg, and the list of commands, do with the colours of the strings. */
import { beforeAll, describe, expect, it } from 'vitest';
import { isAllowed } from '../../../web/board/board-actions.ts';
import { boardCommands } from '../../../web/board/board-commands.ts';
import { PEG_ACTIONS, pegMenu } from '../../../web/board/peg-actions.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { boardHost } from '../../support/board-host.ts';
import { stringsOf } from '../../support/open-design.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('sheets');
});

describe('the menu of a peg', () => {
  it.each([
    ['pegs-mirror-left', 'rgbbgr'],
    ['pegs-mirror-right', 'bgrrgb'],
    ['pegs-reverse', 'bgrbgr'],
    ['pegs-sort', 'rrggbb'],
    ['pegs-repeat', 'rgrgrg'],
  ])('[B387] %s hangs the strings %s, as one step of undo, and has nothing to do then', (id, after) => {
    const { host, editor, design } = boardHost();
    editor.moveTo({ on: 'peg', place: 1 });
    const action = PEG_ACTIONS.find((one) => one.id === id)!;
    expect(isAllowed(action, host)).toBe(true);
    action.run(host);
    expect(stringsOf(design)).toBe(after);
    if (id !== 'pegs-reverse') expect(isAllowed(action, host)).toBe(false);
    design.undo();
    expect([stringsOf(design), design.canUndo]).toEqual(['rgbrgb', false]);
  });

  it('[B387] moves the peg and follows its string; in the list of commands each says why not', () => {
    const { host, editor, asked } = boardHost();
    const of = (id: string) => pegMenu().find((action) => action.id === id)!;
    expect(boardCommands(host).find(({ id }) => id === 'pegs-repeat')?.why).toBe('Go to a peg first.');
    editor.moveTo({ on: 'peg', place: 2 });
    of('move-left').run(host);
    of('move-right').run(host);
    expect(asked.filter((line) => line.startsWith('move peg'))).toEqual(['move peg -1', 'move peg 1']);
    of('trace-here').run(host);
    expect(editor.traced).toBe(2);
    expect(boardCommands(host).find(({ id }) => id === 'pegs-sort')?.why).toBeNull();
    PEG_ACTIONS.find(({ id }) => id === 'pegs-sort')!.run(host);
    expect(boardCommands(host).find(({ id }) => id === 'pegs-sort')?.why).toBe('They hang so already.');
  });
});
