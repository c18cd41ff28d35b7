/** What another node says of a document that is open here too. */
import type { Relay, RelayMessage } from '../relay/index.ts';
import { decodePresence, encodePresence } from './frames.ts';
import type { Room } from './room.ts';

/** What hearing another node needs of a room, beyond what everybody sees of it. */
export interface Hearing {
  readonly room: Room;
  readonly relay: Relay;
  /** Takes an update that another node has stored; false when something before it is missing, or it is none. */
  readonly take: (update: Uint8Array) => boolean;
  readonly reload: () => void;
  /** Another node has begun a new generation. */
  readonly onOutdated: () => void;
  /** People are in the document on another node. */
  readonly onOpenElsewhere: () => void;
}

const NOTHING = new Uint8Array(0);

/** Does what a message asks for. */
export function hearRelay({ kind, bytes }: RelayMessage, hearing: Hearing): void {
  const { room, relay, take, reload, onOutdated, onOpenElsewhere } = hearing;
  switch (kind) {
    case 'update':
      // Something before it was lost on the way; the store has it, and this one too.
      if (!take(bytes)) reload();
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
      reload();
      return;
    case 'renewed':
      // Told with the number of the new one: this room may have been opened since.
      if (Number(Buffer.from(bytes).toString()) > room.generation) onOutdated();
      return;
    case 'open?':
      if (room.members.size > 0) relay.send(room.name, { kind: 'open', bytes: NOTHING });
      return;
    case 'open':
      onOpenElsewhere();
      return;
    case 'removed':
      room.closeAll('deleted');
  }
}
