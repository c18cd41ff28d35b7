/**
 * Work that nobody waits for: a promise that is let go, a timer, a listener. Whatever it throws would end the process, so all of it
 * goes through here, with who answers for it. Of work in a room that is the room, and it is given up.
 */
import type { Log } from './log.ts';

/** Who answers for work that nobody waits for. Must not throw. */
export interface Answerable {
  /** The work has failed; `what` names it for the log. */
  broke(what: string, cause: unknown): void;
}

/** Does something, now and as long as it takes, and tells who answers for it when it fails. Never throws. */
export function unattended(answerable: Answerable, what: string, work: () => unknown): void {
  try {
    const result = work();
    if (result instanceof Promise) result.catch((cause: unknown) => answerable.broke(what, cause));
  } catch (cause) {
    answerable.broke(what, cause);
  }
}

/** For work of no room: it is written down, and whoever needs it asks again. */
export function answeredByLog(log: Log): Answerable {
  return { broke: (what, cause) => log.error('unattended-failed', { what, ...faultFields(cause) }) };
}

/** What the log says of something thrown. */
export function faultFields(cause: unknown): { readonly message: string; readonly stack: string | null } {
  return cause instanceof Error
    ? { message: cause.message, stack: cause.stack ?? null }
    : { message: String(cause), stack: null };
}
