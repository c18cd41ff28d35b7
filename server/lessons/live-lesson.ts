/**
 * What goes on in a lesson beside its document, on one node: who is where, what is said, pointer and strokes. Nothing of it is stored but what a
 * teacher tells a learner. Of learners teachers alone hear; learners hear of the teachers, of themselves and how many are in.
 *
 * Invariants. Whoever says something is the person of their socket's cookie. A frame to a learner is one of `you`, `count`, `point`,
 * `stroke`, `look`, `ready?`, `board`; of these `you` goes to that person's sockets alone.
 */
import {
  isSaidBy,
  type LearnerEntry,
  type LearnerSays,
  type LessonNews,
  type LessonSaying,
  readSaying,
} from '../../engine/document/index.ts';
import type { Clock } from '../clock.ts';
import { type BesideLine, lessonFrame, Rate } from '../sync/index.ts';
import { type Answerable, unattended } from '../unattended.ts';
import type { LearnerRecord, LessonRecord } from './lesson.ts';

/** What nodes tell each other of a lesson that they have open. */
export type LessonPeerMessage =
  /** Where learners are who are connected there. */
  | { readonly k: 'people'; readonly people: readonly Doing[] }
  /** For everybody. */
  | { readonly k: 'all'; readonly news: LessonNews }
  /** Asks where the learners are who are connected there. */
  | { readonly k: '?' };

/** What a learner does, as she says. */
export type Doing = Pick<LearnerEntry, 'person' | 'place' | 'says' | 'saidAt' | 'seenAt' | 'colours'>;

export interface LiveLessonDeps {
  readonly clock: Clock;
  readonly answerable: Answerable;
  /** What is kept of it now; null when it is gone. */
  readonly read: () => Promise<{
    readonly lesson: LessonRecord;
    readonly learners: readonly LearnerRecord[];
  } | null>;
  /** Keeps what a teacher tells a learner. */
  readonly tell: (person: string, text: string, at: number) => Promise<unknown>;
  readonly tellPeers: (message: LessonPeerMessage) => void;
  readonly refused: (reason: string) => void;
}

/** Somebody's socket. */
interface Seat {
  readonly line: BesideLine;
  readonly person: string;
  readonly isTeacher: boolean;
  readonly rate: Rate;
  /** Nothing is told to who has said nothing: any other client may join with the protocol's own kinds alone. */
  hasGreeted: boolean;
}

/** News are gathered for so long. */
const GATHER_MS = 400;
/** Who was heard of in so long is counted as being there. */
const THERE_MS = 2 * 60_000;
/** What one may say in a second, on the average of ten. */
const LEARNER_RATE = 5;
const TEACHER_RATE = 60;

const ABSENT: Omit<Doing, 'person'> = { place: null, says: null, saidAt: 0, seenAt: 0, colours: [] };

export class LiveLesson {
  readonly #deps: LiveLessonDeps;
  readonly #seats = new Set<Seat>();
  readonly #people = new Map<string, LearnerRecord>();
  readonly #doings = new Map<string, Doing>();
  /** Whose entry teachers have not heard of yet; of those connected here the other nodes neither. */
  readonly #dirty = new Set<string>();
  #isLocked = false;
  #state = 1;
  #count = 0;
  #forgetFlush: (() => void) | null = null;

  constructor(deps: LiveLessonDeps) {
    this.#deps = deps;
  }

  get isEmpty(): boolean {
    return this.#seats.size === 0;
  }

  /** Reads what is kept anew: who waits, who is in, what it is about. */
  async reload(): Promise<void> {
    const read = await this.#deps.read();
    if (read === null) return;
    const { lesson, learners } = read;
    for (const learner of learners) {
      const before = this.#people.get(learner.person);
      if (JSON.stringify(before) === JSON.stringify(learner)) continue;
      this.#people.set(learner.person, learner);
      this.#dirty.add(learner.person);
      this.#to((seat) => !seat.isTeacher && seat.person === learner.person, this.#youNews(learner.person));
    }
    const isLockedNow = lesson.isLocked !== this.#isLocked;
    this.#isLocked = lesson.isLocked;
    if (lesson.state !== this.#state) {
      this.#state = lesson.state;
      this.#toAll({ kind: 'board', state: lesson.state });
    }
    if (this.#dirty.size > 0 || isLockedNow) this.#flushSoon();
  }

  /** Somebody has joined. */
  enter(line: BesideLine, person: string, isTeacher: boolean): Seat {
    const rate = new Rate(isTeacher ? TEACHER_RATE : LEARNER_RATE);
    const seat: Seat = { line, person, isTeacher, rate, hasGreeted: false };
    this.#seats.add(seat);
    return seat;
  }

  leave(seat: Seat): void {
    this.#seats.delete(seat);
    if (this.isEmpty) {
      this.#forgetFlush?.();
      this.#forgetFlush = null;
    }
  }

  /** A socket says something. */
  hear(seat: Seat, text: string): void {
    const now = this.#deps.clock.now();
    if (!seat.rate.allows(now)) {
      seat.line.close('tooFast', 'too much was said in the lesson');
      return;
    }
    const saying = readSaying(text);
    if (saying === null || !isSaidBy(saying.kind, seat.isTeacher ? 'teacher' : 'learner')) {
      this.#deps.refused(saying === null ? 'lesson-unread' : 'lesson-role');
      return;
    }
    if (!seat.isTeacher) this.#does(seat.person, { seenAt: now });
    this.#act(seat, saying, now);
  }

  #act(seat: Seat, saying: LessonSaying, now: number): void {
    switch (saying.kind) {
      case 'hello':
        this.#greet(seat, now);
        return;
      case 'at':
        this.#does(seat.person, { place: saying.place });
        return;
      case 'wears':
        this.#does(seat.person, { colours: saying.colours });
        return;
      case 'say':
        this.#says(seat.person, saying.what, now);
        return;
      case 'tell':
        // Kept first, so that every teacher of the lesson finds it; she hears of it as of any change.
        unattended(this.#deps.answerable, 'lesson-tell', () =>
          this.#deps.tell(saying.person, saying.text, now),
        );
        return;
      case 'ready?':
        for (const [person, { says }] of this.#doings) if (says === 'ready') this.#says(person, null, now);
        this.#toEverywhere(saying);
        return;
      case 'point':
      case 'stroke':
      case 'look':
        this.#toEverywhere(saying, seat);
        return;
    }
  }

  #greet(seat: Seat, now: number): void {
    seat.hasGreeted = true;
    if (seat.isTeacher) this.#sayTo(seat, this.#rosterNews([...this.#people.keys()], true, now));
    else this.#sayTo(seat, this.#youNews(seat.person));
    this.#flushSoon();
  }

  #youNews(person: string): LessonNews {
    const { name = '', told = [] } = this.#people.get(person) ?? {};
    const says = this.#doings.get(person)?.says ?? null;
    return {
      kind: 'you',
      name,
      says,
      told,
      count: this.#countNow(this.#deps.clock.now()),
      state: this.#state,
    };
  }

  #says(person: string, what: LearnerSays | null, now: number): void {
    if (this.#doings.get(person)?.says === what) return;
    this.#does(person, { says: what, saidAt: now });
  }

  #does(person: string, change: Partial<Doing>): void {
    this.#doings.set(person, { ...ABSENT, ...this.#doings.get(person), ...change, person });
    this.#dirty.add(person);
    this.#flushSoon();
  }

  /** Another node says something. */
  hearPeer(message: LessonPeerMessage): void {
    switch (message.k) {
      case 'people':
        for (const doing of message.people) {
          const before = this.#doings.get(doing.person);
          if (before !== undefined && before.seenAt > doing.seenAt) continue;
          this.#doings.set(doing.person, doing);
          this.#dirty.add(doing.person);
        }
        this.#flushSoon();
        return;
      case 'all':
        this.#toAll(message.news);
        return;
      case '?':
        this.#deps.tellPeers({ k: 'people', people: this.#ownDoings([...this.#doings.keys()]) });
        return;
    }
  }

  #ownDoings(people: readonly string[]): readonly Doing[] {
    const here = new Set([...this.#seats].map(({ person }) => person));
    return people.flatMap((person) => (here.has(person) ? (this.#doings.get(person) ?? []) : []));
  }

  #flushSoon(): void {
    this.#forgetFlush ??= this.#deps.clock.after(GATHER_MS, () =>
      unattended(this.#deps.answerable, 'lesson-news', () => this.#flush()),
    );
  }

  #flush(): void {
    this.#forgetFlush = null;
    const now = this.#deps.clock.now();
    const changed = [...this.#dirty];
    this.#dirty.clear();
    const own = this.#ownDoings(changed);
    if (own.length > 0) this.#deps.tellPeers({ k: 'people', people: own });
    this.#to((seat) => seat.isTeacher, this.#rosterNews(changed, false, now));
    const count = this.#countNow(now);
    if (count === this.#count) return;
    this.#count = count;
    this.#to((seat) => !seat.isTeacher, { kind: 'count', count });
  }

  #countNow(now: number): number {
    let count = 0;
    for (const { person, state } of this.#people.values())
      if (state === 'in' && (this.#doings.get(person)?.seenAt ?? 0) > now - THERE_MS) count += 1;
    return count;
  }

  #rosterNews(people: readonly string[], isWhole: boolean, now: number): LessonNews {
    const entries = people.flatMap((person): LearnerEntry[] => {
      const learner = this.#people.get(person);
      if (learner === undefined) return [];
      const { name, state, told } = learner;
      return [{ ...ABSENT, ...this.#doings.get(person), person, name, state, told }];
    });
    return { kind: 'roster', now, isLocked: this.#isLocked, people: entries, isWhole };
  }

  /** To all here and on other nodes but one. */
  #toEverywhere(news: LessonNews, but: Seat | null = null): void {
    this.#to((seat) => seat !== but, news);
    this.#deps.tellPeers({ k: 'all', news });
  }

  #toAll(news: LessonNews): void {
    this.#to(() => true, news);
  }

  #sayTo(seat: Seat, news: LessonNews): void {
    this.#to((one) => one === seat, news);
  }

  /** One frame for all readers. Pointer and strokes may be left out for a reader that is behind. */
  #to(isMeant: (seat: Seat) => boolean, news: LessonNews): void {
    const mayGo = news.kind === 'point' || news.kind === 'stroke';
    let frame: Buffer | null = null;
    for (const seat of this.#seats) {
      if (!seat.hasGreeted || !isMeant(seat)) continue;
      frame ??= lessonFrame(JSON.stringify(news));
      if (mayGo) seat.line.sendPresence(frame);
      else seat.line.send(frame);
    }
  }
}
