/**
 * Going on on another device: whoever may look at a board gets a code that works once, for ten minutes. It lets the device that shows it
 * look at the board, no more, and gives it the text that was left with it, which the server does not read.
 *
 * The right rests on the link that the maker of the code came in by: where that is taken back or ends, so does it. A code stands for no
 * link's secret and no session; only its hash is kept. Rules V530 to V534.
 */
import type { Access, Standing } from './access.ts';
import type { AccessStore } from './access-store.ts';
import { hashSecret, isSecretShaped, newSecret } from './secrets.ts';

const HAND_OVER_MS = 10 * 60_000;
/** Characters of what goes along. Packed, a piece of 12,000 knots with all of them tied is a tenth of it. */
export const MOST_CARRIED = 65_536;
/** Text that was packed by the page: base64url. */
const CARRIED = /^[A-Za-z0-9_-]*$/;

/** Whether a text may go along. */
export function isCarried(value: unknown): value is string {
  return typeof value === 'string' && value.length <= MOST_CARRIED && CARRIED.test(value);
}

export interface HandOversDeps {
  readonly access: Pick<Access, 'standing'>;
  readonly store: AccessStore;
  readonly now: () => number;
}

/** What a code was good for. */
export interface TakenOver {
  readonly standing: Standing;
  readonly carried: string;
}

export class HandOvers {
  readonly #deps: HandOversDeps;

  constructor(deps: HandOversDeps) {
    this.#deps = deps;
  }

  /** A code, the only time it can be read; the one that the person had before works no more. */
  async give(
    personId: string,
    boardId: string,
    { linkId, branchOf }: Standing,
    carried: string,
  ): Promise<{ readonly code: string; readonly endsAt: number }> {
    const { store, now } = this.#deps;
    const code = newSecret();
    const endsAt = now() + HAND_OVER_MS;
    await store.addHandOver(
      {
        codeHash: hashSecret(code),
        personId,
        boardId,
        linkId,
        linkBoardId: branchOf ?? boardId,
        endsAt,
        carried,
      },
      now(),
    );
    return { code, endsAt };
  }

  /** Whether a code would work now. */
  async works(boardId: string, code: unknown): Promise<boolean> {
    const { store, now } = this.#deps;
    return isSecretShaped(code) && store.hasHandOver(boardId, hashSecret(code), now());
  }

  /** Lets a person look, once. Null where the code works no more, or the right that it rests on has ended. */
  async take(personId: string, boardId: string, code: unknown): Promise<TakenOver | null> {
    const { access, store, now } = this.#deps;
    if (!isSecretShaped(code)) return null;
    const carried = await store.takeHandOver(boardId, hashSecret(code), personId, now());
    if (carried === null) return null;
    const standing = await access.standing(personId, boardId);
    return standing === null ? null : { standing, carried };
  }
}
