/** What a socket says of who is there. */
import type { PresenceEntry } from './frames.ts';
import type { Room } from './room.ts';
import type { RoomMember } from './room-member.ts';

/** @returns how many entries spoke for somebody else and were passed over; or why nothing more is heard of the socket */
export function hearPresence(
  room: Room,
  member: RoomMember,
  entries: readonly PresenceEntry[],
): number | 'too-large' | 'malformed' {
  let wrong = 0;
  for (const entry of entries) {
    const outcome = room.presence.hear(member, entry, member.personId);
    switch (outcome) {
      case 'taken':
        room.showPresence(entry);
        break;
      case 'held':
        room.presence.ownerOf(entry.client)?.probe();
        break;
      case 'too-large':
      case 'malformed':
        return outcome;
      case 'wrong-person':
        wrong += 1;
        break;
      case 'passed-over':
        break;
    }
  }
  return wrong;
}
