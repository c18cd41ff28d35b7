/**
 * What of a document is whose, and whether it has stood for long: by client ids and clocks, which edits carry, so that no document is
 * worked out. Clocks of a client only count up, so what came since a moment is one clock for each client that brought something since.
 *
 * Where it is not known it is said to be another's: what was there when the room was opened, what came from other nodes, and what somebody
 * came back with, in which others' edits may be. And what was there when the room was opened, or was read from the store, is said to have stood.
 */
import type { ComingEdit, Span } from '../sync/index.ts';

type Writer = ComingEdit['by'];

/** What came since a moment. */
export class Growth {
  readonly #from = new Map<number, number>();
  /** When something may have been seen again that was not seen then, so that all may be newer; infinite = never. In ms that only count up. */
  revealedAt = Number.POSITIVE_INFINITY;

  note({ client, clock }: Span): void {
    if (!this.#from.has(client)) this.#from.set(client, clock);
  }

  /** Whether some of a span is newer. */
  holds({ client, clock, len }: Span): boolean {
    return clock + len > this.fromOf(client);
  }

  /** The clock from which on what a client brought is newer; infinite where it brought nothing since. */
  fromOf(client: number): number {
    return this.#from.get(client) ?? Number.POSITIVE_INFINITY;
  }

  /** All of it, each without an end. */
  *spans(): Iterable<Span> {
    for (const [client, clock] of this.#from) yield { client, clock, len: Number.POSITIVE_INFINITY };
  }
}

interface Window {
  readonly at: number;
  readonly growth: Growth;
}

/** What is gathered as one moment. */
const WINDOW_MS = 2_000;
/** What other nodes say may be so long on its way. */
const ON_THE_WAY_MS = 5_000;

function forgetBefore(windows: Window[], at: number): void {
  while (windows.length > 0 && windows[0]!.at <= at) windows.shift();
}

export class Standing {
  readonly #youngMs: number;
  /** The first who brought something under a client id, and from which clock on; null = nobody who is known. */
  readonly #writers = new Map<number, { readonly by: Writer; readonly from: number }>();
  /** What came in the last moments from people here, and from other nodes, oldest first. */
  readonly #here: Window[] = [];
  readonly #elsewhere: Window[] = [];

  /** @param youngMs what came here less long ago has not stood */
  constructor(youngMs: number) {
    this.#youngMs = youngMs;
  }

  /** Notes an edit, behind what is asked about it. @param now in ms that only count up */
  note({ effect, by, isStored, isOwn }: ComingEdit, now: number): void {
    // What was read from the store may have stood there for long.
    if (effect.grown.length === 0 || (isStored && !isOwn)) return;
    this.#forget(now);
    const windows = isStored ? this.#elsewhere : this.#here;
    let last = windows.at(-1);
    if (last === undefined || now - last.at >= WINDOW_MS) {
      last = { at: now, growth: new Growth() };
      windows.push(last);
    }
    for (const span of effect.grown) {
      last.growth.note(span);
      if (isOwn && !isStored) this.#claim(span, by);
    }
  }

  /** What of these is not this writer's, and has stood. */
  othersOld(spans: Iterable<Span>, by: Writer, now: number): Span[] {
    this.#forget(now);
    const found: Span[] = [];
    for (const { client, clock, len } of spans) {
      let end = clock + len;
      // First: mostly all of it is their own.
      const writer = by === null ? undefined : this.#writers.get(client);
      if (writer?.by === by) end = Math.min(end, writer!.from);
      if (end <= clock) continue;
      for (const { growth } of this.#here) end = Math.min(end, growth.fromOf(client));
      for (const { growth } of this.#elsewhere) end = Math.min(end, growth.fromOf(client));
      if (end > clock) found.push({ client, clock, len: end - clock });
    }
    return found;
  }

  /** What of these somebody wrote here. */
  *writtenHere(spans: Iterable<Span>): Iterable<Span> {
    for (const { client, clock, len } of spans) {
      const from = this.#writers.get(client)?.from;
      if (from === undefined || from >= clock + len) continue;
      const begin = Math.max(clock, from);
      yield { client, clock: begin, len: clock + len - begin };
    }
  }

  /** A client id is one maker's. Where somebody goes on under another's, whoever it is, nobody is known any more. */
  #claim({ client, clock }: Span, by: Writer): void {
    const known = this.#writers.get(client);
    if (known === undefined) this.#writers.set(client, { by, from: clock });
    else if (known.by !== by) this.#writers.set(client, { by: null, from: known.from });
  }

  #forget(now: number): void {
    forgetBefore(this.#here, now - this.#youngMs);
    forgetBefore(this.#elsewhere, now - this.#youngMs + ON_THE_WAY_MS);
  }
}
