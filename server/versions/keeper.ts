/**
 * Which states of one room are kept, and when: before an edit that calls for it, and when the recorder asks. Rules V400 to V409.
 *
 * An edit is only looked at while it comes: what it takes and whose that is follows from client ids and clocks, and the state before it is a list
 * of encoded updates that nobody changes. All else is done behind it, one state after the other, before the edit is stored.
 *
 * Invariant. What came before `last`, and was there until then, is in the newest version that this room has kept or relied on; what came before
 * `safe` is in one that stays for long. So what an edit takes is looked for beyond these, and each state that is kept moves them.
 */
import type { Clock } from '../clock.ts';
import type { Log } from '../log.ts';
import type { Metrics } from '../metrics.ts';
import { StoreError } from '../store/index.ts';
import type { ComingEdit, Guard, Room, Span } from '../sync/index.ts';
import { InTurn } from './in-turn.ts';
import { isLargeEdit, type Size } from './large-edit.ts';
import type { Snapshot } from './snapshot.ts';
import type { Snapshots } from './snapshots.ts';
import { Growth, Standing } from './standing.ts';
import { type Hands, isHeldAnew, unite, type Versions } from './versions.ts';

type Writer = ComingEdit['by'];

/** Two less than the ten seconds that are promised, for what was on its way. */
const YOUNG_MS = 8_000;
/** Away for so long, somebody comes for another visit. */
const VISIT_MS = 30 * 60_000;
/** Kept before large edits in a minute, at most: whoever makes one after the other changes mostly what they made themselves. */
const LARGE_IN_A_MINUTE = 3;
/** What is kept for long is kept anew when somebody takes of it so much later. */
const STALE_MS = 24 * 60 * 60_000;

export interface KeeperDeps {
  readonly snapshots: Snapshots;
  readonly versions: Versions;
  readonly log: Log;
  readonly metrics: Metrics;
  readonly clock: Clock;
}

/** A state of the room. */
interface State {
  readonly updates: readonly Uint8Array[];
  /** The time of day, and of the clock that only counts up. */
  readonly at: number;
  readonly elapsed: number;
  /** Edits before it. */
  readonly edits: number;
  /** What has come since. */
  readonly since: Growth;
  /** Who wrote here before. */
  readonly hands: Hands;
}

/** Why a state may have to be kept before an edit. */
interface Need {
  readonly by: Writer;
  /** What the edit takes of others, and has stood. */
  readonly taken: readonly Span[];
  /** Whether it may take what the room was opened with. */
  readonly takesFound: boolean;
  /** Whether it is the first of the room. */
  readonly isOpening: boolean;
  /** Whether it is the first of somebody's visit. */
  readonly isFirst: boolean;
  readonly isLarge: boolean;
}

const NO_NEED: Need = {
  by: null,
  taken: [],
  takesFound: false,
  isOpening: false,
  isFirst: false,
  isLarge: false,
};

export class Keeper {
  readonly #room: Room;
  readonly #deps: KeeperDeps;
  readonly #standing = new Standing(YOUNG_MS);
  readonly #turn = new InTurn();
  /** What came since each state that is still of use. */
  readonly #growths = new Set<Growth>();
  readonly #visits = new Map<NonNullable<Writer>, number>();
  #edits = 0;
  /** The newest version; null id = there was no design. */
  #last: { readonly id: string | null; readonly state: State } | null = null;
  /** Edits before the state that is safe, and when it was kept; the room's beginning is never too old. */
  #safe: { readonly since: Growth; readonly edits: number; readonly elapsed: number };
  /** Who wrote what the room was opened with, as far as that is not safe; `unread` until it was looked at. */
  #found: Hands | 'unread' = 'unread';
  /** The same, whether it is safe or not; and who wrote since. */
  #handsBefore: Hands = null;
  #hands: Hands = [];
  /** The newest base of knots that came here. */
  #base: Span | null = null;
  /** Whether keys were removed, so that a knot that is written anew may lie over one of the base. */
  #isBaseBare = false;
  #size: Size | null = null;
  /** Whether no knot was tied when the room was opened. */
  #isFoundUntied = false;
  readonly #largeAt: number[] = [];
  #isBegun = false;

  constructor(room: Room, deps: KeeperDeps) {
    this.#room = room;
    this.#deps = deps;
    this.#safe = { since: this.#newGrowth(), edits: 0, elapsed: Number.POSITIVE_INFINITY };
  }

  /** Looks at an edit that is about to be in the document. @returns what must be kept before it is stored; null = nothing */
  coming(edit: ComingEdit): Guard | null {
    const now = this.#deps.clock.elapsed();
    const need = edit.isStored ? this.#needElsewhere(edit, now) : this.#needHere(edit, now);
    this.#isBegun ||= need.isOpening;
    const isCalledFor =
      need.isOpening || need.isFirst || need.isLarge || this.#isUnsafe(need, this.#edits, now);
    const state = isCalledFor ? this.#state() : null;
    this.#note(edit, now);
    if (state === null) return null;
    if (!edit.isStored) return this.#guard(need, state);
    // What is stored already waits for nothing.
    this.#once(() => this.#meet(need, state), state).catch((cause: unknown) => this.#failed(cause));
    return null;
  }

  /** Keeps the present state before something that may change all of it. Rejects with a StoreError where that cannot be. */
  async beforeAll(): Promise<void> {
    const taken = this.#standing.othersOld(this.#safe.since.spans(), null, this.#deps.clock.elapsed());
    const need = { ...NO_NEED, taken, takesFound: true, isOpening: !this.#isBegun };
    this.#isBegun = true;
    await this.#guard(need, this.#state())();
  }

  /** Keeps the present state. Rejects as the store does, and where it cannot be read. */
  async take(): Promise<void> {
    const { clock, metrics } = this.#deps;
    const state = this.#state();
    await this.#once(async () => {
      const began = clock.elapsed();
      const snapshot = await this.#read(state);
      const took = clock.elapsed() - began;
      metrics.observe('larkboard_version_ms', 'Time to read the content of one version.', took);
      await this.#keep(snapshot, state, 'auto');
    }, state);
  }

  /** Fulfils when all is done that was begun. */
  idle(): Promise<void> {
    return this.#turn.idle();
  }

  // --- what an edit calls for ---

  #needHere({ effect, by }: ComingEdit, now: number): Need {
    let spans = effect.isWhole ? [...this.#safe.since.spans(), ...effect.taken] : effect.taken;
    // A key may lie over a knot of the base.
    const isOverBase = effect.begun > 0 || (this.#isBaseBare && effect.knots > 0);
    if (isOverBase && this.#base !== null) spans = [...spans, this.#base];
    const taken = this.#standing.othersOld(spans, by, now);
    const isOverFound = isOverBase && this.#base === null && !this.#isFoundUntied;
    return {
      by,
      taken,
      takesFound: effect.isWhole || isOverFound || taken.some((span) => this.#isFound(span)),
      isOpening: !this.#isBegun,
      isFirst: by !== null && now - (this.#visits.get(by) ?? Number.NEGATIVE_INFINITY) >= VISIT_MS,
      isLarge: isLargeEdit(effect, this.#size),
    };
  }

  /** Who took what they saw on another node kept it there; but what was written here may be hidden by what they did not see. */
  #needElsewhere({ effect }: ComingEdit, now: number): Need {
    const here = effect.isWhole ? this.#standing.writtenHere(this.#safe.since.spans()) : [];
    return { ...NO_NEED, taken: this.#standing.othersOld(here, null, now) };
  }

  /** Whether some of a span may have been there when the room was opened: it is older than what is not safe. */
  #isFound({ client, clock }: Span): boolean {
    return clock < this.#safe.since.fromOf(client);
  }

  /**
   * Whether an edit takes what is in no version that stays for long.
   * @param edits   before the edit; a state that was kept since holds nothing that it took
   * @param elapsed when it came
   */
  #isUnsafe({ by, taken, takesFound }: Need, edits: number, elapsed: number): boolean {
    if (this.#found === 'unread') return takesFound || taken.length > 0;
    const { since, edits: safeEdits, elapsed: safeAt } = this.#safe;
    const isOld = safeEdits > edits || elapsed - safeAt > STALE_MS || elapsed - since.revealedAt >= YOUNG_MS;
    const found = isOld ? this.#handsBefore : this.#found;
    if (takesFound && (found === null || found.some((one) => one !== by))) return true;
    return isOld ? taken.length > 0 : taken.some((span) => since.holds(span));
  }

  #note(edit: ComingEdit, now: number): void {
    const { effect, by, isStored, isOwn } = edit;
    this.#edits += 1;
    for (const growth of this.#growths) {
      for (const span of effect.grown) growth.note(span);
      if (effect.reveals) growth.revealedAt = Math.min(growth.revealedAt, now);
    }
    this.#isBaseBare ||= effect.bares;
    this.#standing.note(edit, now);
    if (effect.base !== null) this.#base = { ...effect.base, len: 1 };
    if (effect.grown.length > 0) {
      const isKnown = isOwn && !isStored && typeof by === 'string';
      if (!isKnown) this.#hands = null;
      else if (this.#hands?.includes(by) === false) this.#hands = unite(this.#hands, [by]);
    }
    if (!isStored && by !== null) this.#visits.set(by, now);
  }

  // --- states ---

  #newGrowth(): Growth {
    const growth = new Growth();
    this.#growths.add(growth);
    return growth;
  }

  #state(): State {
    const { clock } = this.#deps;
    return {
      updates: this.#room.held.updates,
      at: clock.now(),
      elapsed: clock.elapsed(),
      edits: this.#edits,
      since: this.#newGrowth(),
      hands: this.#hands,
    };
  }

  /** Lets go of what came since a state, unless that is of use. */
  #drop(since: Growth): void {
    if (since !== this.#safe.since && since !== this.#last?.state.since) this.#growths.delete(since);
  }

  // --- keeping ---

  /** Begins at once. Where the store fails the guard rejects, and tries again when it is asked again. */
  #guard(need: Need, state: State): Guard {
    const work = this.#turn.work(async () => {
      try {
        await this.#meet(need, state);
      } catch (cause) {
        if (cause instanceof StoreError) throw cause;
        // What cannot be read now can't be read later either, and the edit is not to blame.
        this.#failed(cause);
      }
      this.#drop(state.since);
    });
    return () => work.done();
  }

  /** Does something that nobody tries again, when all is done that was begun before. */
  async #once(act: () => Promise<void>, state: State): Promise<void> {
    try {
      await this.#turn.once(act);
    } finally {
      this.#drop(state.since);
    }
  }

  #failed(cause: unknown): void {
    const { log, metrics } = this.#deps;
    const fields = { room: this.#room.name, message: (cause as Error).message };
    log[cause instanceof StoreError ? 'warn' : 'error']('version-failed', fields);
    metrics.count('larkboard_version_failures_total', 'Versions that could not be kept.');
  }

  /** Keeps what an edit calls for, as far as what was kept meanwhile does not hold it. */
  async #meet(need: Need, state: State): Promise<void> {
    let snapshot: Snapshot | null | undefined;
    if (this.#found === 'unread') {
      snapshot = await this.#read(state);
      await this.#lookAtFound(snapshot, state);
    }
    if (this.#isUnsafe(need, state.edits, state.elapsed)) {
      if (!(await this.#holdLast(need, state))) {
        snapshot ??= await this.#read(state);
        await this.#keep(snapshot, state, 'wiped');
      }
      return;
    }
    const last = this.#last?.state;
    const isChanged = state.edits > (last?.edits ?? -1);
    // What came since a moment ago has not stood.
    const isFirst = need.isFirst && state.elapsed - (last?.elapsed ?? Number.NEGATIVE_INFINITY) >= YOUNG_MS;
    const isLarge = need.isLarge && this.#mayKeepLarge(state.elapsed);
    if (!need.isOpening && !(isChanged && (isFirst || isLarge))) return;
    snapshot ??= await this.#read(state);
    await this.#keep(snapshot, state, isLarge && !need.isOpening ? 'many' : 'auto');
  }

  #mayKeepLarge(now: number): boolean {
    while (this.#largeAt.length > 0 && now - this.#largeAt[0]! >= 60_000) this.#largeAt.shift();
    return this.#largeAt.length < LARGE_IN_A_MINUTE;
  }

  async #read(state: State): Promise<Snapshot | null> {
    const snapshot = await this.#deps.snapshots.read(state.updates);
    if (snapshot !== null) this.#size = snapshot;
    return snapshot;
  }

  /** Finds out whose it is what the room was opened with: the newest version says it, if that is the same. */
  async #lookAtFound(snapshot: Snapshot | null, state: State): Promise<void> {
    this.#isFoundUntied = snapshot?.knots === 0;
    const newest = await this.#deps.versions.newest(this.#room.address.board, state.at);
    if (newest === null || snapshot === null) {
      // Nobody has edited it yet, and the first version stays for ever.
      this.#found = [];
      this.#handsBefore = [];
      return;
    }
    const isSame = newest.digest === snapshot.digest;
    this.#handsBefore = isSame ? newest.hands : null;
    this.#found = isSame && isHeldAnew(newest, state.at) ? [] : this.#handsBefore;
  }

  /** Lets the newest version stay for long, if it holds all that is taken. @returns whether that is so */
  async #holdLast({ taken }: Need, { edits, elapsed }: State): Promise<boolean> {
    const last = this.#last;
    if (last === null || last.id === null || last.state.edits > edits) return false;
    const { since } = last.state;
    if (elapsed - since.revealedAt >= YOUNG_MS || taken.some((span) => since.holds(span))) return false;
    if (!(await this.#deps.versions.hold(this.#room.address.board, last.id))) return false;
    this.#becomeSafe(last.state);
    return true;
  }

  async #keep(snapshot: Snapshot | null, state: State, kind: 'auto' | 'many' | 'wiped'): Promise<void> {
    let id: string | null = null;
    if (snapshot !== null) {
      const { board } = this.#room.address;
      const hands = unite(this.#handsBefore, state.hands);
      const kept = await this.#deps.versions.keep(board, snapshot, { kind, at: state.at, hands });
      if (kept.isNew) this.#deps.metrics.count('larkboard_versions_total', 'Automatic versions kept.');
      id = kept.id;
    }
    if (kind === 'many') this.#largeAt.push(state.elapsed);
    const before = this.#last;
    if (before === null || before.state.edits <= state.edits) this.#last = { id, state };
    if (before !== null) this.#drop(before.state.since);
    // Where there is no design nobody has anything to lose.
    if (kind === 'wiped' || snapshot === null) this.#becomeSafe(state);
  }

  #becomeSafe({ since, edits }: State): void {
    const before = this.#safe;
    if (before.edits > edits) return;
    this.#safe = { since, edits, elapsed: this.#deps.clock.elapsed() };
    this.#found = [];
    this.#drop(before.since);
  }
}
