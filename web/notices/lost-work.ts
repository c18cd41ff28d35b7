/**
 * What others do to one's own work on a board, from its edits: one's own, others', and what one kept of earlier. Says what there is to be told,
 * and puts it back. Knows no page.
 */
import type { Design, KeyChange, Lost, OthersEdit } from '../../engine/document/index.ts';
import {
  isBack,
  OwnWork,
  presentValue,
  putBack,
  rootsOf,
  watchEdits,
  writerOf,
} from '../../engine/document/index.ts';
import { Subject } from '../context/index.ts';
import type { PersonHere } from '../sync/index.ts';
import { type Doer, Gatherer, type Notice } from './gather.ts';
import type { ToldAlready } from './told-already.ts';

/** What it needs of the session of a board. */
export interface WatchedSession {
  readonly design: Design;
  readonly people: Subject<readonly PersonHere[]>;
  readonly isConnected: boolean;
  subscribe(listener: () => void): () => void;
}

export interface LostWorkOptions {
  /** The person here; other tabs of theirs are no others. */
  readonly me: string;
  /** What was told in earlier pages; default: nothing is known of it, nor kept. */
  readonly told?: Pick<ToldAlready, 'has' | 'add' | 'forget'>;
  readonly after: (ms: number, call: () => void) => () => void;
  readonly elapsed: () => number;
}

/** What became of putting it back. */
export interface PutBackDone {
  /** Things that stay, since somebody changed them after. */
  readonly kept: number;
}

export class LostWork {
  /** What there is to be told; null = nothing. */
  readonly notice = new Subject<Notice | null>(null);
  readonly #session: WatchedSession;
  readonly #me: string;
  readonly #own = new OwnWork();
  readonly #gatherer: Gatherer;
  /** Who wrote as which client, as far as they were here while this page was. */
  readonly #writers = new Map<number, Doer>();
  readonly #stops: readonly (() => void)[];
  readonly #told: LostWorkOptions['told'];
  #isCompared = false;
  /** What came before it was known what is one's own from earlier; null once that is known. */
  #early: (() => void)[] | null = [];

  #watched: WatchedSession['design']['doc'] | null = null;
  #stopWatching = (): void => {};

  constructor(session: WatchedSession, { me, told, after, elapsed }: LostWorkOptions) {
    this.#session = session;
    this.#me = me;
    this.#told = told;
    this.#gatherer = new Gatherer({
      after,
      elapsed,
      whoIs: (client) => (client === null ? null : this.#writers.get(client)) ?? { id: null, name: '' },
      onNotice: (notice) => {
        if (notice !== null) this.#told?.add(notice.lost.map(({ change }) => change));
        this.notice.set(notice);
      },
    });
    const meet = (people: readonly PersonHere[]): void => {
      for (const { clientId, presence } of people) {
        const { id, name } = presence.person;
        this.#writers.set(clientId, { id, name });
      }
    };
    meet(session.people.value);
    this.#stops = [
      session.people.subscribe(meet),
      session.subscribe(() => {
        this.#watch();
        this.#compareOnce();
      }),
      () => this.#stopWatching(),
    ];
    // What was done before this was fetched is not kept in the browser yet, or was by now and is known twice.
    for (const { changes } of session.design.unkeptEdits) this.#inTurn(() => this.#own.wrote(changes));
    this.#watch();
  }

  /** Watches the document of the design, another one when the board was renewed. */
  #watch(): void {
    const { doc } = this.#session.design;
    if (doc === this.#watched) return;
    this.#stopWatching();
    this.#watched = doc;
    this.#stopWatching = watchEdits(doc, {
      onOwn: (changes) => this.#inTurn(() => this.#did(changes)),
      onOthers: (edits) => this.#inTurn(() => this.#hear(edits)),
    });
  }

  /** Begins. @param earlier one's own edits of this visit and the one before, from before this page, oldest first */
  begin(earlier: readonly (readonly KeyChange[])[] = []): void {
    const early = this.#early;
    if (early === null) return;
    this.#early = null;
    for (const changes of earlier) this.#own.wrote(changes);
    for (const act of early) act();
    this.#compareOnce();
  }

  /** While a lesson is followed nothing is told. Whatever shows a lesson sets it. */
  set isInLesson(isFollowed: boolean) {
    this.#gatherer.hold(isFollowed);
  }

  /** Whether any of it can be put back as things are. */
  canPutBack({ lost }: Notice): boolean {
    return putBack(lost, this.#session.design.doc).command !== null;
  }

  /** Puts back what still stands as they left it, as one step of undo; null when nothing of it can be. */
  putBack({ lost }: Notice): PutBackDone | null {
    const { design } = this.#session;
    const { command, kept } = putBack(lost, design.doc);
    if (command === null) return null;
    design.stopUndoCapture();
    const done = design.run(command);
    design.stopUndoCapture();
    this.#gatherer.close();
    return done.ok ? { kept } : null;
  }

  /** It was seen. */
  close(): void {
    this.#gatherer.close();
  }

  dispose(): void {
    for (const stop of this.#stops) stop();
    this.#gatherer.dispose();
  }

  #inTurn(act: () => void): void {
    if (this.#early === null) act();
    else this.#early.push(act);
  }

  #did(changes: readonly KeyChange[]): void {
    this.#told?.forget(changes);
    this.#own.wrote(changes);
    this.#gatherer.did(changes);
  }

  #hear(edits: readonly OthersEdit[]): void {
    const { doc } = this.#session.design;
    for (const { client, changes } of edits) {
      const by = client ?? this.#onlyOther();
      if (by !== null && this.#writers.get(by)?.id === this.#me) {
        this.#did(changes);
        continue;
      }
      this.#gatherer.wentOn(by, changes, (change) => isBack(doc, change));
      this.#tell(by, this.#own.taken(changes));
      // Very many knots at once are told as one change of them all.
      if (changes.some(isOfMany)) this.#tell(by, this.#compare());
    }
  }

  /** What has no writer is theirs who alone is here beside oneself, while all are heard as they write. */
  #onlyOther(): number | null {
    if (!this.#session.isConnected || !this.#isCompared) return null;
    const others = this.#session.people.value.filter(({ presence }) => presence.person.id !== this.#me);
    const ids = new Set(others.map(({ presence }) => presence.person.id));
    return ids.size === 1 ? others[0]!.clientId : null;
  }

  /** What was changed while no page was here to see it. */
  #compareOnce(): void {
    if (this.#early !== null || this.#isCompared || !this.#session.isConnected) return;
    this.#isCompared = true;
    const roots = rootsOf(this.#session.design.doc);
    for (const lost of this.#compare()) {
      if (this.#told?.has(lost.change) === true) continue;
      const by = writerOf(lost.change, roots);
      if (by === null || this.#writers.get(by)?.id !== this.#me) this.#tell(by, [lost]);
    }
  }

  #compare(): readonly Lost[] {
    const { doc } = this.#session.design;
    return this.#own.compare((root, key) => presentValue(doc, root, key));
  }

  #tell(client: number | null, lost: readonly Lost[]): void {
    this.#gatherer.add(client, lost);
  }
}

/** Whether it is a change of the packed knots of a pattern. */
function isOfMany({ root, key }: KeyChange): boolean {
  return root === 'knots' && !key.includes(':');
}
