/** What can be done with the peg that one is on, and with the colours of all: for its menu, and the list of commands. */
import type { ColourId } from '../../engine/index.ts';
import type { ActionHost, BoardAction } from './board-action.ts';
import { actionOf } from './board-actions.ts';
import { hang } from './peg-hand.ts';
import { mirroredOrder, repeatedOrder, sortedOrder } from './peg-orders.ts';

const onPeg = ({ editor }: ActionHost): boolean => editor.spot.on === 'peg';
/** Places up to the peg, itself included. */
const upTo = ({ editor: { spot, model } }: ActionHost): number =>
  spot.on === 'peg' ? spot.place + 1 : model.strings;

/** Another order of all colours; out of use where it is the present one. */
function order(
  id: string,
  key: BoardAction['key'],
  next: (host: ActionHost, colours: readonly ColourId[]) => readonly ColourId[],
  can: (host: ActionHost) => boolean = () => true,
): BoardAction {
  const isNew = (host: ActionHost): boolean => {
    const { colours } = host.editor.model.board.pattern;
    return next(host, colours).some((colour, place) => colour !== colours[place]);
  };
  return {
    id,
    key,
    group: 'colour',
    edits: true,
    can: (host) => can(host) && isNew(host),
    run: (host) => {
      hang(host.editor, next(host, host.editor.model.board.pattern.colours));
    },
  };
}

export const PEG_ACTIONS: readonly BoardAction[] = [
  order('pegs-mirror-left', 'peg.mirrorLeft', (_, colours) => mirroredOrder(colours, 'left')),
  order('pegs-mirror-right', 'peg.mirrorRight', (_, colours) => mirroredOrder(colours, 'right')),
  order('pegs-reverse', 'peg.reverse', (_, colours) => colours.toReversed()),
  order('pegs-sort', 'peg.sort', ({ editor }, colours) => sortedOrder(colours, editor.model.board.palette)),
  order('pegs-repeat', 'peg.repeat', (host, colours) => repeatedOrder(colours, upTo(host)), onPeg),
];

/** The menu of a peg, from the top. */
export function pegMenu(): readonly BoardAction[] {
  const of = (id: string, group: BoardAction['group'] = 'shape'): BoardAction => ({ ...actionOf(id), group });
  return [
    { ...of('move-left', 'edit'), key: 'peg.left' },
    { ...of('move-right', 'edit'), key: 'peg.right' },
    { ...of('trace-here', 'edit'), can: onPeg },
    ...PEG_ACTIONS,
    of('strings-left'),
    of('strings-right'),
    of('delete-strings'),
  ];
}
