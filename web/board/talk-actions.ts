/** What the board offers of the talk: to say something about a place, and to read what is said about it. */
import type { ActionHost, BoardAction } from './board-action.ts';
import { stringsOf } from './board-model.ts';
import { TalkHereEvent, type TalkSpot } from './talk-here.ts';

function spotOf({ editor }: ActionHost): TalkSpot | null {
  const { spot, cursor, model } = editor;
  if (spot.on === 'peg') return spot;
  return cursor && { on: 'knot', row: cursor.row, k: cursor.k, ...stringsOf(model, cursor) };
}

function tell(host: ActionHost, wants: 'say' | 'read'): void {
  const spot = spotOf(host);
  if (spot !== null) host.dispatchEvent(new TalkHereEvent(wants, spot));
}

const canTalk = (host: ActionHost): boolean => host.talk?.canTalk === true && spotOf(host) !== null;
const hasRemarks = (host: ActionHost): boolean => (host.talk?.countAt(host.editor.spot) ?? 0) > 0;

export const TALK_ACTIONS: readonly BoardAction[] = [
  {
    id: 'say-here',
    key: 'board.act.say',
    group: 'talk',
    keys: ['P'],
    inMenu: true,
    can: canTalk,
    isOffered: canTalk,
    run: (host) => tell(host, 'say'),
  },
  {
    id: 'remarks-here',
    key: 'board.act.remarks',
    group: 'talk',
    keys: ['Shift+P'],
    inMenu: true,
    can: hasRemarks,
    isOffered: hasRemarks,
    run: (host) => tell(host, 'read'),
  },
];
