/**
 * Whose share of the server an asker uses. A school is one address: limits that count addresses alone let one pupil lock out
 * all. So whoever a link let in has a share of their own; people who are new have a small one, and what all new ones of a board
 * and an address use together is bounded too, since cookies are free; all others at an address share one part.
 *
 * Who asks is looked up before a limit can be told, at most so often for an address, and remembered. A link that is right opens however many
 * wrong ones were tried beside it: 192 random bits are not found by trying faster. Who is new is known in memory, on one node.
 */
import { createHash } from 'node:crypto';
import type { Denial, Pass } from './authorize.ts';

/**
 * `person`: whom a link let in. `newcomer`: the same, of somebody who became a person a short time ago. `newcomers`: all of these on
 * one board from one address; where there are no links, everybody at an address. `strangers`: all at an address whom no link let in.
 */
type ShareKind = 'person' | 'newcomer' | 'newcomers' | 'strangers';

/** What may be used at most of each kind of share. */
export type ShareLimits = Readonly<Record<ShareKind, number>>;

/** One thing that is counted. */
export interface SharePart {
  readonly kind: ShareKind;
  readonly key: string;
}

/** All that is counted for an asker; each part must have room. */
export type Share = readonly SharePart[];

/** The share of those at an address whom no link let in. */
export function shareOfStrangers(address: string): Share {
  return [{ kind: 'strangers', key: address }];
}

/** The share of who asks for a board. */
export function shareOf(pass: Pass | Denial, board: string, address: string): Share {
  if ('denied' in pass || !pass.isAdmitted) return shareOfStrangers(address);
  const { personId, isNew } = pass;
  if (personId === null) return [{ kind: 'newcomers', key: address }];
  if (isNew !== true) return [{ kind: 'person', key: personId }];
  return [
    { kind: 'newcomer', key: personId },
    { kind: 'newcomers', key: `${board} ${address}` },
  ];
}

/** Whoever is new on boards of their own must not have a share more by each: all new ones of an address have one. */
export function acrossBoards(share: Share, address: string): Share {
  return share.flatMap((part) => (part.kind === 'newcomers' ? shareOfStrangers(address) : part));
}

/** Entries of each part at most; beyond it those are forgotten that were not used for longest. */
const MOST_REMEMBERED = 20_000;
/** How long an answer is believed: whose share is used, nothing else, hangs on it. */
const BELIEVED_MS = 10 * 60_000;

/** Remembers by which cookie somebody was let in, so that the store need not be asked for each request, nor while a flood comes. */
export class Regulars {
  readonly #shares = new Map<string, { readonly share: Share; readonly at: number }>();

  /** Notes whose share it was. Strangers are not noted: a link may let them in at any moment. */
  note(cookie: string | undefined, board: string, share: Share, now: number): void {
    if (cookie === undefined || share[0]?.kind === 'strangers') return;
    const key = keyOf(cookie, board);
    this.#shares.delete(key);
    this.#shares.set(key, { share, at: now });
    const oldest = this.#shares.keys().next();
    if (this.#shares.size > MOST_REMEMBERED && !oldest.done) this.#shares.delete(oldest.value);
  }

  /** The share noted for a cookie and a board; null when it is not known, or not any more. */
  find(cookie: string | undefined, board: string, now: number): Share | null {
    if (cookie === undefined) return null;
    const found = this.#shares.get(keyOf(cookie, board));
    return found === undefined || now < found.at || now - found.at >= BELIEVED_MS ? null : found.share;
  }
}

/** Cookies are secrets: they are not kept as they are. */
function keyOf(cookie: string, board: string): string {
  return `${board} ${createHash('sha256').update(cookie).digest('base64url')}`;
}

/** Counts what is in use of each share at a moment: sockets, requests. */
export class InUse {
  readonly #most: ShareLimits;
  readonly #counts = new Map<string, number>();

  constructor(most: ShareLimits) {
    this.#most = most;
  }

  hasRoomFor(share: Share): boolean {
    return share.every((part) => (this.#counts.get(nameOf(part)) ?? 0) < this.#most[part.kind]);
  }

  /** Takes one of the share, to be given back by {@link leave}. */
  enter(share: Share): void {
    for (const part of share) this.#counts.set(nameOf(part), (this.#counts.get(nameOf(part)) ?? 0) + 1);
  }

  leave(share: Share): void {
    for (const part of share) {
      const left = (this.#counts.get(nameOf(part)) ?? 1) - 1;
      if (left > 0) this.#counts.set(nameOf(part), left);
      else this.#counts.delete(nameOf(part));
    }
  }
}

/** What was counted since a moment. */
interface Counted {
  readonly since: number;
  count: number;
}

/** What was counted of one kind. */
interface OfKind {
  readonly most: number;
  readonly counts: Map<string, Counted>;
}

/** Counts what each share is used for in a span of time, anew from its first use on. */
export class PerSpan {
  readonly #spanMs: number;
  // Each kind by itself: asked for with every edit, and a name that is put together from kind and key is looked up slowly.
  readonly #person: OfKind;
  readonly #newcomer: OfKind;
  readonly #newcomers: OfKind;
  readonly #strangers: OfKind;

  constructor(most: ShareLimits, spanMs: number) {
    this.#spanMs = spanMs;
    this.#person = { most: most.person, counts: new Map() };
    this.#newcomer = { most: most.newcomer, counts: new Map() };
    this.#newcomers = { most: most.newcomers, counts: new Map() };
    this.#strangers = { most: most.strangers, counts: new Map() };
  }

  /** Adds one where each part has room, else nothing. @returns ms to wait; 0 = it was added */
  add(share: Share, now: number): number {
    const waitMs = this.waitMs(share, now);
    if (waitMs === 0) this.count(share, now, 1);
    return waitMs;
  }

  /** @returns ms to wait until each part has room; 0 = now */
  waitMs(share: Share, now: number): number {
    for (const part of share) {
      const { since, count } = this.#countOf(part, now);
      if (count >= this.#ofKind(part.kind).most) return since + this.#spanMs - now;
    }
    return 0;
  }

  /** Adds so much, room or not. */
  count(share: Share, now: number, amount: number): void {
    for (const part of share) this.#countOf(part, now).count += amount;
  }

  /** Takes back one that was added and should not count. */
  takeBack(share: Share): void {
    for (const part of share) {
      const entry = this.#ofKind(part.kind).counts.get(part.key);
      if (entry !== undefined && entry.count > 0) entry.count -= 1;
    }
  }

  #ofKind(kind: ShareKind): OfKind {
    switch (kind) {
      case 'person':
        return this.#person;
      case 'newcomer':
        return this.#newcomer;
      case 'newcomers':
        return this.#newcomers;
      case 'strangers':
        return this.#strangers;
    }
  }

  #countOf({ kind, key }: SharePart, now: number): Counted {
    const { counts } = this.#ofKind(kind);
    const known = counts.get(key);
    // A clock that was set back would keep a span open until it is where it was.
    if (known !== undefined && now >= known.since && now - known.since < this.#spanMs) return known;
    const entry = { since: now, count: 0 };
    counts.delete(key);
    counts.set(key, entry);
    const oldest = counts.keys().next();
    if (counts.size > MOST_REMEMBERED && !oldest.done) counts.delete(oldest.value);
    return entry;
  }
}

function nameOf({ kind, key }: SharePart): string {
  return `${kind} ${key}`;
}
