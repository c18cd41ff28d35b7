/**
 * When a maker is told of what others did to their work, and what is told at once. One notice at a time, of one person; what that person does
 * meanwhile is gathered. Knows no page and no clock of its own. Rules W980 to W984.
 */
import type { KeyChange, Lost } from '../../engine/document/index.ts';

/** So long what comes in one go is gathered before it is told. */
const SETTLE_MS = 2_000;
/** Nothing is told sooner after the last time. */
const PACE_MS = 30_000;

/** Who did it, as far as that is known. */
export interface Doer {
  /** Id of the person; null = nobody can be named. */
  readonly id: string | null;
  readonly name: string;
}

export interface Notice {
  readonly who: Doer;
  /** Things of one's own, each once, in the order in which they were taken. */
  readonly lost: readonly Lost[];
}

export interface GatherDeps {
  readonly after: (ms: number, call: () => void) => () => void;
  /** In ms, going on steadily. */
  readonly elapsed: () => number;
  /** Who that is; asked when it is told, since who came back with many hears only then who is there. */
  readonly whoIs: (client: number | null) => Doer;
  /** What there is to be told now; null = nothing any more. */
  readonly onNotice: (notice: Notice | null) => void;
}

interface Entry {
  readonly client: number | null;
  readonly lost: Lost;
}

const keyOf = ({ root, key }: Pick<KeyChange, 'root' | 'key'>): string => `${root} ${key}`;
/** Of one thing several keys may be taken. */
const entryKey = ({ thing, change }: Lost): string => `${thing} ${keyOf(change)}`;

export class Gatherer {
  readonly #deps: GatherDeps;
  /** What was taken and not told yet, oldest first. */
  #waiting = new Map<string, Entry>();
  /** What is told now; null = nothing. */
  #shown: { readonly who: Doer; readonly entries: Map<string, Entry> } | null = null;
  #since = 0;
  #toldAt = Number.NEGATIVE_INFINITY;
  #timer: (() => void) | null = null;
  #isHeld = false;

  constructor(deps: GatherDeps) {
    this.#deps = deps;
  }

  /** Somebody took these. */
  add(client: number | null, lost: readonly Lost[]): void {
    if (this.#isHeld || lost.length === 0) return;
    if (this.#waiting.size === 0) this.#since = this.#deps.elapsed();
    for (const one of lost) {
      const key = entryKey(one);
      this.#waiting.delete(key);
      this.#waiting.set(key, { client, lost: one });
    }
    this.#plan();
  }

  /**
   * Others went on. What the same person changed again is still theirs to be taken back; what is as it was before is no loss any more.
   * @param isBack whether what a change took is there again
   */
  wentOn(client: number | null, changes: readonly KeyChange[], isBack: (change: KeyChange) => boolean): void {
    const now = new Map(changes.map((change) => [keyOf(change), change]));
    const follow = (entries: Map<string, Entry>): boolean => {
      let isOther = false;
      for (const [key, { client: by, lost }] of entries) {
        const next = now.get(keyOf(lost.change));
        if (next === undefined) continue;
        if (isBack(lost.change)) entries.delete(key);
        else if (by === client)
          entries.set(key, { client, lost: { ...lost, change: { ...lost.change, after: next.after } } });
        else continue;
        isOther = true;
      }
      return isOther;
    };
    follow(this.#waiting);
    if (this.#shown !== null && follow(this.#shown.entries)) this.#tell();
  }

  /** The maker wrote there themselves, or put it back: it is no loss any more. */
  did(changes: readonly KeyChange[]): void {
    const mine = new Set(changes.map(keyOf));
    const drop = (entries: Map<string, Entry>): boolean => {
      const before = entries.size;
      for (const [key, { lost }] of entries) if (mine.has(keyOf(lost.change))) entries.delete(key);
      return entries.size < before;
    };
    drop(this.#waiting);
    if (this.#shown !== null && drop(this.#shown.entries)) this.#tell();
  }

  /** The maker has seen it. */
  close(): void {
    if (this.#shown === null) return;
    this.#shown = null;
    this.#deps.onNotice(null);
    this.#plan();
  }

  /** While somebody follows a lesson nothing is told, and nothing is gathered for later. */
  hold(isHeld: boolean): void {
    this.#isHeld = isHeld;
    if (!isHeld) return;
    this.#waiting.clear();
    this.close();
    this.#plan();
  }

  dispose(): void {
    this.#timer?.();
    this.#timer = null;
  }

  #plan(): void {
    this.#timer?.();
    this.#timer = null;
    if (this.#waiting.size === 0) return;
    const due = Math.max(this.#since + SETTLE_MS, this.#toldAt + PACE_MS);
    this.#timer = this.#deps.after(Math.max(0, due - this.#deps.elapsed()), () => {
      this.#timer = null;
      this.#tellNext();
    });
  }

  /** Who is told of already goes on being told of; who comes next waits until that was seen. */
  #tellNext(): void {
    const byWho = new Map<string | null, { readonly who: Doer; readonly entries: Map<string, Entry> }>();
    for (const [key, entry] of this.#waiting) {
      const who = this.#deps.whoIs(entry.client);
      const of = byWho.get(who.id) ?? { who, entries: new Map<string, Entry>() };
      byWho.set(who.id, of);
      of.entries.set(key, entry);
    }
    const shown = this.#shown;
    const next = shown === null ? byWho.values().next().value : byWho.get(shown.who.id);
    if (next === undefined) return;
    for (const key of next.entries.keys()) this.#waiting.delete(key);
    this.#shown =
      shown === null ? next : { who: next.who, entries: new Map([...shown.entries, ...next.entries]) };
    this.#toldAt = this.#deps.elapsed();
    this.#since = this.#toldAt;
    this.#tell();
    this.#plan();
  }

  #tell(): void {
    const shown = this.#shown;
    if (shown === null) return;
    const lost = [...shown.entries.values()].map((entry) => entry.lost);
    if (lost.length === 0) this.close();
    else this.#deps.onNotice({ who: shown.who, lost });
  }
}
