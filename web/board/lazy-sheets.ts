/** Context menu, command list and sheet of shortcuts: loaded when first opened. */
import { LbBoardMenu } from './lb-board-menu.ts';
import { LbCommandList } from './lb-command-list.ts';
import { LbShortcutSheet } from './lb-shortcut-sheet.ts';

/** What lies over the board, one at a time. */
export type Sheet = 'commands' | 'shortcuts' | 'menu';

const SHEETS: Readonly<Record<string, CustomElementConstructor>> = {
  'lb-board-menu': LbBoardMenu,
  'lb-command-list': LbCommandList,
  'lb-shortcut-sheet': LbShortcutSheet,
};

/** Makes their elements known; again does nothing. */
export function defineSheets(): void {
  for (const [name, element] of Object.entries(SHEETS))
    if (customElements.get(name) === undefined) customElements.define(name, element);
}
