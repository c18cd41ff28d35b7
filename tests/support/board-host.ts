/** A board as its keys and its actions see it, without an element: what they ask of it is listed. */
import { type Board, patternFromText } from '../../engine/index.ts';
import type { KeysHost } from '../../web/board/board-keys.ts';
import { Editor } from '../../web/board/editor.ts';
import type { EditorNews } from '../../web/board/editor-news.ts';
import { openDesign, rowsOf } from './open-design.ts';
import { sampleBoard } from './sample-board.ts';

/** Six strings and six rows without knots. */
export function untiedBoard(): Board {
  const rows = Array.from({ length: 6 }, (_, row) => (row % 2 === 0 ? '- - -' : '- -'));
  return { ...sampleBoard(6, 6), pattern: patternFromText(['r', 'g', 'b', 'r', 'g', 'b'], rows) };
}

export function boardHost(board: Board = untiedBoard(), { canEdit = true, canTalk = true } = {}) {
  const design = openDesign(board);
  const news: EditorNews[] = [];
  const asked: string[] = [];
  const remarks = new Map<string, number>();
  const editor = new Editor(design, { canEdit, onChange: () => {}, onNews: (one) => news.push(one) });
  const note =
    (name: string) =>
    (...args: readonly unknown[]): void =>
      void asked.push([name, ...args.map((arg) => JSON.stringify(arg))].join(' '));
  const host = {
    editor,
    look: 'chart',
    isBeside: false,
    besideLook: 'finished',
    stage: null as never,
    isTrueShape: false,
    showTrueShape: note('true shape'),
    isSwapping: false,
    fingerTies: false,
    talk: { canTalk, countAt: (spot: object) => remarks.get(JSON.stringify(spot)) ?? 0 },
    dispatchEvent: (event: Event) => {
      note(event.type)((event as Event & { spot?: unknown }).spot);
      return true;
    },
    zoomBy: note('zoom'),
    fit: note('fit'),
    showLook: note('look'),
    showBeside: note('beside'),
    copyToClipboard: async (isCut: boolean) => note('copy')(isCut),
    pasteFromClipboard: async () => note('paste')(),
    startSwap: note('swap'),
    openCommands: note('commands'),
    openShortcuts: note('shortcuts'),
    openMenuHere: note('menu'),
    moveTo: (spot: Parameters<KeysHost['moveTo']>[0], extend = false) => {
      note('move')(spot, extend);
      editor.moveTo(spot, extend);
    },
    usePeg: note('peg'),
    movePeg: note('move peg'),
    holdSpace: note('space'),
    speakSpot: note('speak'),
    say: note('say'),
    refuse: note('refuse'),
  } satisfies KeysHost;
  return {
    host: host as KeysHost & typeof host,
    editor,
    design,
    news,
    asked,
    remarks,
    rows: () => rowsOf(design),
  };
}
