/** The board's lines in the list of commands. */
import { beforeAll, describe, expect, it } from 'vitest';
import { PEG_ACTIONS } from '../../../web/board/peg-actions.ts';
import { BOARD_ACTIONS, isAllowed } from '../../../web/board/board-actions.ts';
import { boardCommands, doableFirst } from '../../../web/board/board-commands.ts';
import { searchActions } from '../../../web/board/search-actions.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { boardHost } from '../../support/board-host.ts';

beforeAll(() => loadTexts('sheets'));

const why = (host: Parameters<typeof boardCommands>[0], id: string): string | null =>
  boardCommands(host).find((command) => command.id === id)!.why;

describe('commands of the board', () => {
  it('[X104] say why they cannot be done, each its own reason, and nothing where they can', () => {
    const { host, editor } = boardHost();
    expect(why(host, 'repeat-down')).toBe('Select a block first.');
    expect(why(host, 'undo')).toBe('There is nothing of yours to undo.');
    expect(why(host, 'mirror-off')).toBe('No mirror is on.');
    expect(why(host, 'remarks-here')).toBe('Nothing is pinned here.');
    editor.moveTo({ on: 'peg', place: 1 }, false);
    expect(why(host, 'copy')).toBe('Go to a knot first.');
    const looking = boardHost(undefined, { canEdit: false, canTalk: false }).host;
    expect(why(looking, 'knot-1')).toBe('You may only look at this board.');
    expect(why(looking, 'say-here')).toBe('You cannot say anything here.');
    for (const one of [host, looking])
      for (const command of boardCommands(one)) {
        const action = [...BOARD_ACTIONS, ...PEG_ACTIONS].find(({ id }) => id === command.id)!;
        expect([command.id, command.why === null]).toEqual([command.id, isAllowed(action, one)]);
      }
  });

  it('[X104] those that can be done stand first, in their order', () => {
    const commands = boardCommands(boardHost(undefined, { canEdit: false }).host);
    const sorted = doableFirst(commands);
    expect(sorted).toHaveLength(commands.length);
    const split = sorted.findIndex((command) => command.why !== null);
    expect(split).toBeGreaterThan(0);
    expect(sorted.slice(split).every((command) => command.why !== null)).toBe(true);
    expect(sorted.slice(0, split)).toEqual(commands.filter((command) => command.why === null));
  });

  it('[X103] are found by other words, those that are called so first', () => {
    const find = (text: string) =>
      searchActions(
        boardCommands(boardHost().host),
        text,
        ({ name }) => name,
        ({ words }) => words,
      ).map(({ id }) => id);
    expect(find('symmetry')).toEqual(['mirror']);
    expect(find('erase')).toEqual(['untie']);
    expect(find('string')[0]).toBe('tool-trace');
    expect(find('block paint')).toEqual([]);
  });

  it('[X103] is not among its own lines', () => {
    expect(boardCommands(boardHost().host).map(({ id }) => id)).not.toContain('commands');
  });
});
