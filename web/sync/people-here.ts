/** What a page knows of who is at its board. */
import type { Presence } from '../../engine/document/index.ts';

export interface PersonHere {
  /** Of the tab that they did something in last. */
  readonly clientId: number;
  readonly presence: Presence;
  readonly self: boolean;
  /** Whether they are not heard now, because the line is broken: they may have left since. */
  readonly isUnheard?: boolean;
}

export interface PersonLeft {
  readonly person: Presence['person'];
  /** When it was noticed, in ms. */
  readonly at: number;
}
