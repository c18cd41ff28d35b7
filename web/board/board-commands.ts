/** What can be done on the board, as lines of the list of commands: with other words for it, and why not where it cannot be done now. */
import { hasText, type TextKey, t } from '../text/index.ts';
import { ACTION_GROUPS, type ActionHost, type BoardAction } from './board-action.ts';
import { BOARD_ACTIONS, isAllowed } from './board-actions.ts';
import type { Command } from './command.ts';
import { PEG_ACTIONS } from './peg-actions.ts';
import { keysOf } from './own-keys.ts';

/** What an action waits for, where it is no knot under the cursor. */
const WAITS: Readonly<Record<string, TextKey>> = {
  'mirror-off': 'board.why.mirror',
  undo: 'board.why.undo',
  redo: 'board.why.redo',
  'tie-selection': 'board.why.selection',
  deselect: 'board.why.selected',
  'repeat-down': 'board.why.selection',
  'repeat-right': 'board.why.selection',
  'move-up': 'board.why.selection',
  'move-down': 'board.why.selection',
  'move-left': 'board.why.selection',
  'move-right': 'board.why.selection',
  'remarks-here': 'board.why.remarks',
};

function whyNot(action: BoardAction, host: ActionHost): string | null {
  if (isAllowed(action, host)) return null;
  if (action.edits === true && !host.editor.canEdit) return t('board.why.look');
  if (action.id === 'say-here' && host.talk?.canTalk !== true) return t('board.why.talk');
  if (PEG_ACTIONS.includes(action))
    return t(action.id === 'pegs-repeat' && host.editor.spot.on !== 'peg' ? 'peg.whyPeg' : 'peg.whySame');
  return t(WAITS[action.id] ?? 'board.why.cursor');
}

/** Other words for a command, where it has some. */
export function otherWords(id: string): string {
  const key = `find.${id}`;
  return hasText(key) ? t(key) : '';
}

export function boardCommands(host: ActionHost): readonly Command[] {
  return ACTION_GROUPS.flatMap((group) =>
    [...BOARD_ACTIONS, ...PEG_ACTIONS]
      .filter((action) => action.group === group && action.id !== 'commands')
      .map((action) => ({
        id: action.id,
        name: t(action.key),
        words: otherWords(action.id),
        group: t(`board.group.${group}`),
        key: keysOf(action)[0],
        why: whyNot(action, host),
        run: () => action.run(host),
      })),
  );
}

/** Those that can be done first, the others behind them; groups stay together. */
export function doableFirst(commands: readonly Command[]): readonly Command[] {
  return [...commands.filter(({ why }) => why === null), ...commands.filter(({ why }) => why !== null)];
}
