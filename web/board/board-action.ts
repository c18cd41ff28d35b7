/** What an action of the board is, and what it may ask of the board. */

import type { IconName } from '../icons/index.ts';
import type { TextKey } from '../text/index.ts';
import type { Editor } from './editor.ts';
import type { TalkHere } from './talk-here.ts';

export type Look = 'chart' | 'paths' | 'finished';

/** What actions need besides the editor. */
export interface ActionHost {
  readonly editor: Editor;
  readonly look: Look;
  readonly isBeside: boolean;
  /** What is shown beside the first look; the finished band where that is the first look's own. */
  readonly besideLook: Look;
  /** The box that the board is drawn in. */
  readonly stage: HTMLElement;
  /** Null while the talk is not open. */
  readonly talk: TalkHere | null;
  dispatchEvent(event: Event): boolean;
  /** Whether the chart is as high for its width as the band will be. */
  readonly isTrueShape: boolean;
  showTrueShape(isTrue: boolean): void;
  zoomBy(factor: number): void;
  fit(what: 'all' | 'width'): void;
  showLook(look: Look): void;
  showBeside(isBeside: boolean, look?: Look): void;
  copyToClipboard(isCut: boolean): Promise<void>;
  pasteFromClipboard(): Promise<void>;
  /** Whether the next colour chosen is exchanged with the present one. */
  readonly isSwapping: boolean;
  startSwap(): void;
  /** Whether a finger that is drawn over the board ties along; else it moves the board, and a tap ties. */
  fingerTies: boolean;
  openCommands(): unknown;
  openShortcuts(): unknown;
  openMenuHere(): void;
  /** Puts the peg that the keyboard is on so many places further. */
  movePeg(by: number): void;
}

export type ActionGroup = 'tie' | 'tool' | 'edit' | 'shape' | 'colour' | 'talk' | 'view' | 'help';
export const ACTION_GROUPS: readonly ActionGroup[] = [
  'tie',
  'tool',
  'edit',
  'shape',
  'colour',
  'talk',
  'view',
  'help',
];

export interface BoardAction {
  readonly id: string;
  readonly key: TextKey;
  readonly group: ActionGroup;
  /** Keys while the board has the focus, such as `Ctrl+Shift+Z`; Ctrl stands for ⌘ as well. */
  readonly keys?: readonly string[];
  /** The browser sends an event of its own for these keys: they are listed, not listened to. */
  readonly isNative?: boolean;
  readonly icon?: IconName;
  readonly edits?: boolean;
  /** Stands in the context menu. */
  readonly inMenu?: boolean;
  /** Whether the menu shows it at all; default: yes. */
  readonly isOffered?: (host: ActionHost) => boolean;
  readonly isOn?: (host: ActionHost) => boolean;
  readonly can?: (host: ActionHost) => boolean;
  readonly run: (host: ActionHost) => void;
}
