/** What a socket says of who is there. */
import type { Members } from './members.ts';
import type { PresenceEntry } from './presence-bytes.ts';
import type { RoomMember } from './room-member.ts';

/** @param refuse is called for each entry that speaks for somebody else; it is passed over */
export function hearPresence(
  members: Members,
  member: RoomMember,
  entries: readonly PresenceEntry[],
  refuse: () => void,
): void {
  for (const entry of entries) {
    const outcome = members.presence.hear(member, entry, member.personId);
    switch (outcome) {
      case 'taken':
        members.show(entry);
        break;
      case 'held':
        members.presence.ownerOf(entry.client)?.probe();
        break;
      case 'too-large':
        member.close('tooLarge', 'presence is too large');
        return;
      case 'malformed':
        member.close('malformed', 'presence is not a JSON object');
        return;
      case 'wrong-person':
        refuse();
        break;
      case 'passed-over':
        break;
    }
  }
}
