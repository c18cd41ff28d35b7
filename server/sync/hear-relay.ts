/** What another node says of a document that is open here too. */
import { type Clock, pause } from '../clock.ts';
import type { Relay, RelayMessage } from '../relay/index.ts';
import { unattended } from '../unattended.ts';
import { decodePresence, encodePresence } from './frames.ts';
import type { Room } from './room.ts';

const NOTHING = new Uint8Array(0);
/** So long other nodes have to say that somebody is in. */
const ASK_MS = 500;

/**
 * Whether people are in the document on another node, or have left edits there that are not stored yet, or it cannot be known. Only a courtesy: the store refuses rows of
 * a generation that has ended, wherever they come from.
 */
export async function isInUseElsewhere(
  room: Room,
  { relay, clock }: { readonly relay: Relay; readonly clock: Clock },
): Promise<boolean> {
  if (!relay.isShared) return false;
  if (!relay.isUp) return true;
  room.isOpenElsewhere = false;
  relay.send(room.name, { kind: 'open?', bytes: NOTHING });
  await pause(clock, ASK_MS);
  return room.isOpenElsewhere;
}

/** Does what a message asks for. */
export function hearRelay(room: Room, relay: Relay, { kind, bytes }: RelayMessage): void {
  switch (kind) {
    case 'update':
      // Something before it was lost on the way; the store has it, and this one too.
      if (!room.takeStored(bytes)) unattended(room, 'reload', () => room.reload());
      return;
    case 'presence':
      for (const one of decodePresence(bytes)) if (room.presence.hearRemote(one)) room.showPresence(one);
      return;
    case 'present?': {
      const own = room.presence.entries('own');
      if (own.length > 0) relay.send(room.name, { kind: 'presence', bytes: encodePresence(own) });
      return;
    }
    case 'reload':
      unattended(room, 'reload', () => room.reload());
      return;
    case 'renewed':
      // Told with the number of the new one: this room may have been opened since.
      if (Number(Buffer.from(bytes).toString()) > room.generation) room.onOutdated();
      return;
    case 'open?':
      if (room.members.size > 0 || !room.isSaved) relay.send(room.name, { kind: 'open', bytes: NOTHING });
      return;
    case 'open':
      room.isOpenElsewhere = true;
      return;
    case 'removed':
      room.closeAll('deleted');
  }
}
