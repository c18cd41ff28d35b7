/**
 * What the client at a socket holds, as far as it has shown it. A machine whose steps change nothing.
 *
 * `joining`: it has not shown of which generation its copy is. `live`: of the present one. `asking`: edits came that build on some which the
 * room does not have, so it is asked for all; what it was before follows when all is there. `past`: it holds something else than the present
 * generation, or may; see `renewal/copy-visit.ts`. `going-over`: it was told that the next generation begins, and what is read from it is
 * still of the one that has ended.
 *
 * Whoever may hold another generation gets no edits. They would wait in its copy for what that will never hold, and come back with it.
 */

/** Whether edits of this socket were passed over; marks wait until all has been sent anew. */
interface Lacking {
  readonly lacks: boolean;
}

export type Holding =
  | (Lacking & { readonly kind: 'joining' })
  | (Lacking & { readonly kind: 'live' })
  /** `since`: when the question went out; null while none may, and once it was answered by what is not taken yet. */
  | { readonly kind: 'asking'; readonly was: 'joining' | 'live'; readonly since: number | null }
  | {
      readonly kind: 'past';
      /** A question for the document that is answered when it is known what the client holds. */
      readonly unanswered: Uint8Array | null;
      /** Whether it has asked for the document since, as one that holds nothing else. */
      readonly isShown: boolean;
    }
  | { readonly kind: 'going-over' };

export type HoldingEvent =
  /** It asked for the document as one that holds the present generation, or nothing. */
  | { readonly kind: 'shown' }
  /** It may hold something else than the present generation. */
  | { readonly kind: 'met' }
  /** It asks for the document, which must wait. */
  | { readonly kind: 'asked-early'; readonly stateVector: Uint8Array }
  /** It is no copy of another generation after all. */
  | { readonly kind: 'no-copy' }
  /** Edits were passed over. */
  | { readonly kind: 'passed-over' }
  /** Edits came whose base is missing. */
  | { readonly kind: 'unplaced' }
  /** It is asked for all it has. */
  | { readonly kind: 'asked-for-all'; readonly now: number }
  /** It has sent all it has; whether that is taken is not known yet. */
  | { readonly kind: 'answered' }
  /** All it has was taken. */
  | { readonly kind: 'all-taken' }
  /** The next generation begins, and it was told so. */
  | { readonly kind: 'handed-over' }
  /** It has gone over. */
  | { readonly kind: 'followed' }
  /** The clock stands at an earlier time now. */
  | { readonly kind: 'set-back'; readonly now: number };

/** Shared by all sockets: nothing of them is one's own. */
const JOINING: Holding = { kind: 'joining', lacks: false };
const LIVE: Holding = { kind: 'live', lacks: false };
const GOING_OVER: Holding = { kind: 'going-over' };
const LACKING = { joining: { kind: 'joining', lacks: true }, live: { kind: 'live', lacks: true } } as const;
export const BEGINNING: Holding = JOINING;

/** What follows on an event. */
export function stepHolding(holding: Holding, event: HoldingEvent): Holding {
  if (holding.kind === 'going-over') return event.kind === 'followed' ? LIVE : holding;
  switch (event.kind) {
    case 'handed-over':
      return GOING_OVER;
    case 'followed':
      return holding;
    case 'shown':
      return shown(holding);
    case 'met':
      return {
        kind: 'past',
        unanswered: holding.kind === 'past' ? holding.unanswered : null,
        isShown: false,
      };
    case 'asked-early':
      return holding.kind === 'past' ? { ...holding, unanswered: event.stateVector } : holding;
    case 'no-copy':
      return LACKING.live;
    case 'passed-over':
      return holding.kind === 'joining' || holding.kind === 'live' ? LACKING[holding.kind] : holding;
    case 'unplaced':
      return holding.kind === 'joining' || holding.kind === 'live'
        ? { kind: 'asking', was: holding.kind, since: null }
        : holding;
    case 'asked-for-all':
      return holding.kind === 'asking' ? { ...holding, since: event.now } : holding;
    case 'answered':
      return holding.kind === 'asking' ? { ...holding, since: null } : holding;
    case 'all-taken':
      if (holding.kind === 'past') return holding;
      return (holding.kind === 'asking' ? holding.was : holding.kind) === 'live' ? LIVE : JOINING;
    case 'set-back':
      return holding.kind === 'asking' && holding.since !== null && holding.since > event.now
        ? { ...holding, since: event.now }
        : holding;
  }
}

function shown(holding: Exclude<Holding, { kind: 'going-over' }>): Holding {
  switch (holding.kind) {
    case 'joining':
      return holding.lacks ? LACKING.live : LIVE;
    case 'live':
      return holding;
    case 'asking':
      return { ...holding, was: 'live' };
    case 'past':
      return { ...holding, isShown: true };
  }
}

/** Whether the client may hold another generation, so that it gets no edits. */
export function mayBeOther(holding: Holding): boolean {
  if (holding.kind === 'past') return !holding.isShown;
  return (holding.kind === 'asking' ? holding.was : holding.kind) === 'joining';
}

/** Whether the client holds all that was told in the room, and nothing of another generation, so that it can be handed over. */
export function mayGoOver(holding: Holding): boolean {
  return holding.kind === 'live';
}

/** Whether some of what the client has sent is not in the document, so that marks wait. */
export function isLacking(holding: Holding): boolean {
  return (
    holding.kind === 'asking' || holding.kind === 'past' || (holding.kind !== 'going-over' && holding.lacks)
  );
}

/** Whether what edits build on is awaited for longer than it may take. */
export function isOverdue(holding: Holding, now: number, mostMs: number): boolean {
  return holding.kind === 'asking' && holding.since !== null && now - holding.since > mostMs;
}
