/**
 * Who may change which colourway here. A convention of the page: the server lets whoever may change the design change all of it
 * (server/THREATS.md). Rules Y4, Y5 in web/RULES.md.
 */
import type { Role } from '../../engine/document/index.ts';
import type { Colourway } from '../../engine/index.ts';

/** Who looks at the set. */
export interface Me {
  readonly id: string;
  readonly name: string;
  /** Null where the server keeps no links: whoever knows the address does everything. */
  readonly role: Role | null;
  /** Whether the design can be changed at all. */
  readonly canEdit: boolean;
}

function isOwner({ role }: Me): boolean {
  return role === null || role === 'owner';
}

/** Whether the colourway is the person's own. */
export function isMine(me: Me, colourway: Colourway): boolean {
  return colourway.maker?.id === me.id;
}

/** One's own, nobody's, and as an owner all. */
export function mayChange(me: Me, colourway: Colourway): boolean {
  return me.canEdit && (isOwner(me) || colourway.maker === undefined || isMine(me, colourway));
}

/** Whether the person may give it to anybody; others only take what is nobody's and let go what is theirs. */
export function mayAssign(me: Me): boolean {
  return me.canEdit && isOwner(me);
}
