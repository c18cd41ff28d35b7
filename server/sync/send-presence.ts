/** Sends what people of a room have shown. */
import type { Relay } from '../relay/index.ts';
import { encodePresence, type PresenceEntry, presenceFrame } from './frames.ts';
import type { Room } from './room.ts';

/** Sends it to everybody as one frame. The sender hears itself: stock clients take silence for a dead line. */
export function sendPresence(
  { name, presence, members }: Room,
  relay: Relay,
  entries: readonly PresenceEntry[],
): void {
  const frame = presenceFrame(entries);
  for (const member of members) member.sendPresence(frame);
  if (!relay.isShared) return;
  const own = entries.filter((entry) => presence.ownerOf(entry.client) !== null || entry.state === 'null');
  if (own.length > 0) relay.send(name, { kind: 'presence', bytes: encodePresence(own) });
}
