/** What the keys do on a wish: those of the board, with the maker's own ones; digits are colours. */
import { OPEN } from '../../engine/index.ts';
import { actionFor, NO_MIRROR, ownKeys, spotAfter } from '../board/index.ts';
import type { WishEditor, WishTool } from './wish-editor.ts';

export interface WishKeysHost {
  readonly editor: WishEditor;
  zoomBy(factor: number): void;
  fit(what: 'all' | 'width'): void;
  holdSpace(isHeld: boolean): void;
  /** Moves the cursor, into sight, and the keyboard with it. */
  moveTo(row: number, k: number, extend: boolean): void;
  /** Says what is at the cursor. */
  speak(): void;
  close(): void;
}

const TOOLS: Readonly<Record<string, WishTool>> = {
  'tool-tie': 'tie',
  'tool-line': 'line',
  'tool-fill': 'fill',
  'tool-select': 'select',
  'tool-pick': 'pick',
  'tool-pan': 'pan',
};

/** What an action of the board does to a wish, by its id; those that speak of knots do nothing here. */
const ACTIONS: Readonly<Record<string, (host: WishKeysHost) => void>> = {
  mirror: ({ editor }) => {
    const isOn = editor.mirror.upright !== null || editor.mirror.level !== null;
    editor.setMirror(isOn ? NO_MIRROR : { upright: 'middle', level: null });
  },
  'mirror-here': ({ editor }) => editor.mirrorHere('upright'),
  'mirror-row': ({ editor }) => editor.mirrorHere('level'),
  'mirror-off': ({ editor }) => editor.setMirror(NO_MIRROR),
  undo: ({ editor }) => editor.undo(),
  redo: ({ editor }) => editor.redo(),
  untie: ({ editor }) => editor.paintHere(OPEN),
  'select-all': ({ editor }) => editor.selectAll(),
  deselect: (host) => {
    if (host.editor.selection === null && !host.editor.isInStroke) host.close();
    else host.editor.letGo();
  },
  'repeat-down': ({ editor }) => editor.repeatSelection('down'),
  'repeat-right': ({ editor }) => editor.repeatSelection('right'),
  'move-up': ({ editor }) => editor.moveSelection(-2, 0),
  'move-down': ({ editor }) => editor.moveSelection(2, 0),
  'move-left': ({ editor }) => editor.moveSelection(0, -2),
  'move-right': ({ editor }) => editor.moveSelection(0, 2),
  'zoom-in': (host) => host.zoomBy(1.25),
  'zoom-out': (host) => host.zoomBy(1 / 1.25),
  fit: (host) => host.fit('all'),
  'fit-width': (host) => host.fit('width'),
  wish: (host) => host.close(),
};

export class WishKeys {
  readonly #host: WishKeysHost;

  constructor(host: WishKeysHost) {
    this.#host = host;
  }

  readonly down = (event: KeyboardEvent): void => {
    if (!this.#does(event)) return;
    event.preventDefault();
    event.stopPropagation();
  };

  readonly up = (event: KeyboardEvent): void => {
    if (event.key === ' ') this.#host.holdSpace(false);
  };

  #does(event: KeyboardEvent): boolean {
    const { editor } = this.#host;
    if (event.key === ' ' && !event.shiftKey && !event.ctrlKey) {
      this.#host.holdSpace(true);
      return true;
    }
    const { cursor } = editor;
    const spot = cursor === null ? null : spotAfter(editor.stagger, { on: 'knot', ...cursor }, event);
    if (spot !== null) {
      if (spot.on === 'knot') this.#host.moveTo(spot.row, spot.k, event.shiftKey);
      return true;
    }
    if (event.key === 'Enter') {
      this.#useTool();
      return true;
    }
    return this.#paints(event) || this.#acts(event);
  }

  #paints(event: KeyboardEvent): boolean {
    const digit = /^(?:Digit|Numpad)(\d)$/.exec(event.code)?.[1];
    const isAlone = !event.ctrlKey && !event.metaKey && !event.altKey && !event.shiftKey;
    if (digit === undefined || !isAlone || !ownKeys.value.hasSingles) return false;
    const { editor } = this.#host;
    const ink = Number(digit) - 1;
    if (ink >= editor.wish.palette.length) return true;
    editor.chooseInk(ink);
    editor.paintHere();
    this.#host.speak();
    return true;
  }

  #acts(event: KeyboardEvent): boolean {
    const id = actionFor(event)?.id;
    const tool = id === undefined ? undefined : TOOLS[id];
    const act = id === undefined ? undefined : ACTIONS[id];
    if (tool !== undefined) this.#host.editor.choose(tool);
    else if (act === undefined) return false;
    else act(this.#host);
    this.#host.speak();
    return true;
  }

  #useTool(): void {
    const { editor } = this.#host;
    const { cursor } = editor;
    if (cursor === null || editor.tool === 'pan') return;
    const isDrawn = editor.tool === 'line' || editor.tool === 'select';
    if (!isDrawn) {
      editor.press(cursor);
      editor.release();
    } else if (editor.isInStroke) editor.release();
    else editor.press(cursor);
    this.#host.speak();
  }
}
