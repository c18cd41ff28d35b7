/** Everything a maker can do on the board, in one list: tool bar, keys, context menu, command list and sheet of shortcuts read it. */
import type { ActionHost, BoardAction } from './board-action.ts';
import { usePart } from '../parts/index.ts';
import { NO_MIRROR } from './mirror.ts';
import { TALK_ACTIONS } from './talk-actions.ts';

const hasSelection = ({ editor }: ActionHost): boolean => editor.selection !== null;
const onPeg = ({ editor }: ActionHost): boolean => editor.spot.on === 'peg';
const isMovable = (host: ActionHost): boolean => onPeg(host) || hasSelection(host);
const hasCursor = ({ editor }: ActionHost): boolean => editor.cursor !== null;
const hasBlock = ({ editor }: ActionHost): boolean => editor.selection !== null || editor.cursor !== null;

const KNOT_ACTIONS: readonly BoardAction[] = (
  [
    ['forward', 1],
    ['backward', 2],
    ['forwardBackward', 3],
    ['backwardForward', 4],
    ['untie', 0],
  ] as const
).map(([name, knot]) => ({
  id: `knot-${knot}`,
  key: `board.tool.${name}` as const,
  group: 'tie' as const,
  keys: [String(knot)],
  edits: true,
  isOn: ({ editor }: ActionHost) => editor.ink.kind === 'knot' && editor.ink.knot === knot,
  // By key the knot is also tied where the cursor is.
  run: ({ editor }: ActionHost) => editor.chooseKnot(knot),
}));

/** Each letter begins a word of what the tool is called in every language. */
const TOOL_ACTIONS: readonly BoardAction[] = (
  [
    ['tie', 'K', true],
    ['line', 'L', true],
    ['fill', 'F', true],
    ['select', 'B', false],
    ['trace', 'S', false],
    ['pick', 'D', false],
    ['pan', 'W', false],
  ] as const
).map(([tool, key, edits]) => ({
  id: `tool-${tool}`,
  key: `board.tool.${tool}` as const,
  group: 'tool' as const,
  keys: [key],
  icon: tool,
  edits,
  isOn: ({ editor }: ActionHost) => editor.tool === tool,
  run: ({ editor }: ActionHost) => editor.choose(tool),
}));

const MIRROR_ACTIONS: readonly BoardAction[] = [
  {
    id: 'mirror',
    key: 'board.mirrored',
    group: 'tool',
    keys: ['M'],
    icon: 'mirror',
    edits: true,
    isOn: ({ editor }) => editor.mirror.upright !== null || editor.mirror.level !== null,
    run: ({ editor }) => {
      const isOn = editor.mirror.upright !== null || editor.mirror.level !== null;
      editor.setMirror(isOn ? NO_MIRROR : { upright: 'middle', level: null });
    },
  },
  {
    id: 'mirror-here',
    key: 'board.mirrorHere',
    group: 'tool',
    keys: ['Shift+M'],
    edits: true,
    inMenu: true,
    can: hasCursor,
    run: ({ editor }) => editor.mirrorHere('upright'),
  },
  {
    id: 'mirror-row',
    key: 'board.mirrorRow',
    group: 'tool',
    edits: true,
    inMenu: true,
    can: hasCursor,
    run: ({ editor }) => editor.mirrorHere('level'),
  },
  {
    id: 'mirror-off',
    key: 'board.mirrorOff',
    group: 'tool',
    edits: true,
    can: ({ editor }) => editor.mirror.upright !== null || editor.mirror.level !== null,
    run: ({ editor }) => editor.setMirror(NO_MIRROR),
  },
];

const EDIT_ACTIONS: readonly BoardAction[] = [
  {
    id: 'undo',
    key: 'board.act.undo',
    group: 'edit',
    keys: ['Ctrl+Z'],
    edits: true,
    can: ({ editor }) => editor.design.canUndo,
    run: ({ editor }) => void editor.design.undo(),
  },
  {
    id: 'redo',
    key: 'board.act.redo',
    group: 'edit',
    keys: ['Ctrl+Shift+Z', 'Ctrl+Y'],
    edits: true,
    can: ({ editor }) => editor.design.canRedo,
    run: ({ editor }) => void editor.design.redo(),
  },
  {
    id: 'copy',
    key: 'board.act.copy',
    group: 'edit',
    keys: ['Ctrl+C'],
    isNative: true,
    inMenu: true,
    can: hasBlock,
    run: (host) => void host.copyToClipboard(false),
  },
  {
    id: 'cut',
    key: 'board.act.cut',
    group: 'edit',
    keys: ['Ctrl+X'],
    isNative: true,
    inMenu: true,
    edits: true,
    can: hasBlock,
    run: (host) => void host.copyToClipboard(true),
  },
  {
    id: 'paste',
    key: 'board.act.paste',
    group: 'edit',
    keys: ['Ctrl+V'],
    isNative: true,
    inMenu: true,
    edits: true,
    can: hasBlock,
    run: (host) => void host.pasteFromClipboard(),
  },
  {
    id: 'untie',
    key: 'board.act.untie',
    group: 'edit',
    keys: ['Delete', 'Backspace'],
    inMenu: true,
    edits: true,
    can: hasBlock,
    run: ({ editor }) => editor.tieHere({ kind: 'knot', knot: 0 }),
  },
  {
    id: 'tie-selection',
    key: 'board.act.tieSelection',
    group: 'edit',
    inMenu: true,
    edits: true,
    can: hasSelection,
    run: ({ editor }) => editor.tieHere(),
  },
  {
    id: 'select-all',
    key: 'board.act.selectAll',
    group: 'edit',
    keys: ['Ctrl+A'],
    run: ({ editor }) => editor.selectAll(),
  },
  {
    id: 'select-row',
    key: 'board.act.selectRow',
    group: 'edit',
    keys: ['Shift+Space'],
    can: hasCursor,
    run: ({ editor }) => editor.selectAlong('row'),
  },
  {
    id: 'select-places',
    key: 'board.act.selectPlaces',
    group: 'edit',
    keys: ['Ctrl+Space'],
    can: hasCursor,
    run: ({ editor }) => editor.selectAlong('places'),
  },
  {
    id: 'deselect',
    key: 'board.act.deselect',
    group: 'edit',
    keys: ['Escape'],
    can: ({ editor, isSwapping }) =>
      isSwapping || editor.selection !== null || editor.traced !== null || editor.isInStroke,
    run: (host) => (host.isSwapping ? host.startSwap() : host.editor.letGo()),
  },
  {
    id: 'repeat-down',
    key: 'board.act.repeatDown',
    group: 'edit',
    keys: ['R'],
    inMenu: true,
    edits: true,
    can: hasSelection,
    run: ({ editor }) => editor.repeatSelection('down'),
  },
  {
    id: 'repeat-right',
    key: 'board.act.repeatRight',
    group: 'edit',
    keys: ['Shift+R'],
    inMenu: true,
    edits: true,
    can: hasSelection,
    run: ({ editor }) => editor.repeatSelection('right'),
  },
  {
    id: 'move-up',
    key: 'board.act.moveUp',
    group: 'edit',
    keys: ['Alt+ArrowUp'],
    edits: true,
    can: hasSelection,
    run: ({ editor }) => editor.moveSelection(-2, 0),
  },
  {
    id: 'move-down',
    key: 'board.act.moveDown',
    group: 'edit',
    keys: ['Alt+ArrowDown'],
    edits: true,
    can: hasSelection,
    run: ({ editor }) => editor.moveSelection(2, 0),
  },
  {
    id: 'move-left',
    key: 'board.act.moveLeft',
    group: 'edit',
    keys: ['Alt+ArrowLeft'],
    edits: true,
    can: isMovable,
    run: (host) => (onPeg(host) ? host.movePeg(-1) : host.editor.moveSelection(0, -2)),
  },
  {
    id: 'move-right',
    key: 'board.act.moveRight',
    group: 'edit',
    keys: ['Alt+ArrowRight'],
    edits: true,
    can: isMovable,
    run: (host) => (onPeg(host) ? host.movePeg(1) : host.editor.moveSelection(0, 2)),
  },
];

const SHAPE_ACTIONS: readonly BoardAction[] = [
  {
    id: 'rows-above',
    key: 'board.act.rowsAbove',
    group: 'shape',
    keys: ['Shift+Insert'],
    inMenu: true,
    edits: true,
    run: ({ editor }) => editor.insertRows('above'),
  },
  {
    id: 'rows-below',
    key: 'board.act.rowsBelow',
    group: 'shape',
    keys: ['Insert'],
    inMenu: true,
    edits: true,
    run: ({ editor }) => editor.insertRows('below'),
  },
  {
    id: 'delete-rows',
    key: 'board.act.deleteRows',
    group: 'shape',
    keys: ['Shift+Delete'],
    inMenu: true,
    edits: true,
    can: hasBlock,
    run: ({ editor }) => editor.deleteRows(),
  },
  {
    id: 'strings-left',
    key: 'board.act.stringsLeft',
    group: 'shape',
    inMenu: true,
    edits: true,
    run: ({ editor }) => editor.insertStrings('left'),
  },
  {
    id: 'strings-right',
    key: 'board.act.stringsRight',
    group: 'shape',
    inMenu: true,
    edits: true,
    run: ({ editor }) => editor.insertStrings('right'),
  },
  {
    id: 'delete-strings',
    key: 'board.act.deleteStrings',
    group: 'shape',
    inMenu: true,
    edits: true,
    run: ({ editor }) => editor.deleteStrings(),
  },
];

const COLOUR_ACTIONS: readonly BoardAction[] = [
  {
    id: 'show',
    key: 'board.tool.show',
    group: 'colour',
    keys: ['5'],
    icon: 'show',
    edits: true,
    isOn: ({ editor }) => editor.ink.kind === 'show',
    run: ({ editor }) => editor.chooseShowing(),
  },
  {
    id: 'swap',
    key: 'board.act.swap',
    group: 'colour',
    keys: ['T'],
    icon: 'swap',
    edits: true,
    run: (host) => host.startSwap(),
  },
  {
    id: 'pick-here',
    key: 'board.act.pick',
    group: 'colour',
    inMenu: true,
    can: hasCursor,
    run: ({ editor }) => editor.cursor && editor.pick(editor.cursor),
  },
  {
    id: 'trace-here',
    key: 'board.act.trace',
    group: 'colour',
    inMenu: true,
    can: hasCursor,
    run: ({ editor }) => editor.traceHere(),
  },
];

const LOOK_ACTIONS: readonly BoardAction[] = (['chart', 'paths', 'finished'] as const).map((look, i) => ({
  id: `look-${look}`,
  key: `board.look.${look}` as const,
  group: 'view' as const,
  keys: [`Shift+${i + 1}`],
  isOn: (host: ActionHost) => host.look === look,
  run: (host: ActionHost) => host.showLook(look),
}));

const VIEW_ACTIONS: readonly BoardAction[] = [
  ...LOOK_ACTIONS,
  {
    id: 'beside',
    key: 'board.beside',
    group: 'view',
    keys: ['Shift+4'],
    icon: 'beside',
    isOn: (host) => host.isBeside,
    run: (host) => host.showBeside(!host.isBeside),
  },
  {
    id: 'wish',
    key: 'board.wish',
    group: 'view',
    keys: ['Shift+5'],
    edits: true,
    run: (host) => void usePart('wish', ({ openWish }) => openWish(host)),
  },
  {
    id: 'zoom-in',
    key: 'board.zoomIn',
    group: 'view',
    keys: ['+', '='],
    icon: 'zoomIn',
    run: (host) => host.zoomBy(1.25),
  },
  {
    id: 'zoom-out',
    key: 'board.zoomOut',
    group: 'view',
    keys: ['-'],
    icon: 'zoomOut',
    run: (host) => host.zoomBy(1 / 1.25),
  },
  { id: 'fit', key: 'board.fit', group: 'view', keys: ['A'], icon: 'fit', run: (host) => host.fit('all') },
  {
    id: 'fit-width',
    key: 'board.fitWidth',
    group: 'view',
    keys: ['Shift+A'],
    run: (host) => host.fit('width'),
  },
  {
    id: 'true-shape',
    key: 'board.trueShape',
    group: 'view',
    icon: 'trueShape',
    isOn: (host) => host.isTrueShape,
    run: (host) => host.showTrueShape(!host.isTrueShape),
  },
];

const HELP_ACTIONS: readonly BoardAction[] = [
  {
    id: 'commands',
    key: 'board.act.commands',
    group: 'help',
    keys: ['Ctrl+K', '/'],
    icon: 'search',
    run: (host) => host.openCommands(),
  },
  {
    id: 'shortcuts',
    key: 'board.act.shortcuts',
    group: 'help',
    keys: ['?'],
    icon: 'keyboard',
    run: (host) => host.openShortcuts(),
  },
  {
    id: 'menu',
    key: 'board.keys.menu',
    group: 'help',
    keys: ['Shift+F10', 'ContextMenu'],
    run: (host) => host.openMenuHere(),
  },
];

export const BOARD_ACTIONS: readonly BoardAction[] = [
  ...KNOT_ACTIONS,
  ...TOOL_ACTIONS,
  ...MIRROR_ACTIONS,
  ...EDIT_ACTIONS,
  ...SHAPE_ACTIONS,
  ...COLOUR_ACTIONS,
  ...TALK_ACTIONS,
  ...VIEW_ACTIONS,
  ...HELP_ACTIONS,
];

/** An action by its id. @throws RangeError when there is none */
export function actionOf(id: string): BoardAction {
  const action = BOARD_ACTIONS.find((one) => one.id === id);
  if (action === undefined) throw new RangeError(`there is no action ${JSON.stringify(id)}`);
  return action;
}

/** Whether it can be done now. */
export function isAllowed(action: BoardAction, host: ActionHost): boolean {
  return (action.edits !== true || host.editor.canEdit) && (action.can?.(host) ?? true);
}
