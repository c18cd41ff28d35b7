/**
 * Visits of people to a room: a person, and when they began to edit. A visit ends once nobody of theirs was in the room for half an hour, so two
 * tabs are one, and so is somebody whose line was down. A room that was opened anew, or another node, cannot know when a visit began and begins one;
 * who reads the log puts together what is less than that apart (`journal/read-visits.ts`). So nothing is kept of visits but what stands in it.
 */
import { readPerson } from '../../engine/document/index.ts';
import type { Signature } from './written-by.ts';

/** Whoever is away for longer comes to another visit. */
export const AWAY_MS = 30 * 60_000;

interface Visit {
  seenAt: number;
  /** What the person showed when the name was read. */
  state: string | null;
  signature: Signature;
}

/** The label of a visit: a person and a time, told apart by the last dot. */
function visitLabel(personId: string, beganAt: number): string {
  return `${personId}.${beganAt.toString(36)}`;
}

/** The person of a label; null where it is none. */
export function personOfLabel(label: string): string | null {
  const dot = label.lastIndexOf('.');
  return dot > 0 ? label.slice(0, dot) : null;
}

export class Visits {
  readonly #visits = new Map<string, Visit>();

  get size(): number {
    return this.#visits.size;
  }

  /**
   * How an edit of somebody is signed now.
   * @param state what they show of themselves, as JSON; null where nothing
   */
  signatureOf(personId: string, state: string | null, now: number): Signature {
    let visit = this.#visits.get(personId);
    // Where the clock was set back nobody knows how long they were away.
    if (visit === undefined || Math.abs(now - visit.seenAt) > AWAY_MS) {
      visit = { seenAt: now, state: null, signature: { visit: visitLabel(personId, now), name: '' } };
      this.#visits.set(personId, visit);
    }
    visit.seenAt = now;
    if (state !== null && state !== visit.state) {
      visit.state = state;
      visit.signature = { ...visit.signature, name: nameIn(state) };
    }
    return visit.signature;
  }

  /** Notes who is here; called every few seconds. Forgets who has been away for long. */
  see(here: ReadonlySet<string>, now: number): void {
    for (const [personId, visit] of this.#visits) {
      if (here.has(personId)) visit.seenAt = now;
      else if (Math.abs(now - visit.seenAt) > AWAY_MS) this.#visits.delete(personId);
    }
  }
}

/** The name in a presence state, which the presence board has read as an object; empty where there is none to show. */
function nameIn(state: string): string {
  return readPerson((JSON.parse(state) as { readonly person?: unknown } | null)?.person)?.name ?? '';
}
