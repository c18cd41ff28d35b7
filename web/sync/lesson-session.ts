/**
 * One page's place in a lesson: its document in step with the server, and what is said beside it.
 *
 * What a learner says of where she is goes out once a second at most, the latest alone, and again whenever the line is back: the server
 * keeps none of it.
 */
import * as Y from 'yjs';
import {
  encodeLessonText,
  type LearnerEntry,
  type LearnerSays,
  type Lesson,
  type LessonNews,
  type LessonPlace,
  type LessonSaying,
  MESSAGE_LESSON,
  placeText,
  readLesson,
  readLessonText,
  readNews,
  roomName,
} from '../../engine/document/index.ts';
import { BoardLine } from './board-line.ts';
import { FadingInk } from './fading-ink.ts';

/** What a learner knows of herself and the others. */
export interface OwnNews {
  readonly name: string;
  readonly told: readonly { readonly at: number; readonly text: string }[];
  /** How many are in. */
  readonly count: number;
}

const PACE_MS = 1_000;
/** So often a page that says nothing else says that it is there. */
const SIGN_MS = 60_000;
/** A pointer is told of so often. */
const POINT_MS = 100;

export interface LessonSessionOptions {
  readonly lesson: string;
  readonly isTeacher: boolean;
  readonly server: string;
  /** Hears of every change. */
  readonly onChange: () => void;
  /** The teacher calls everybody to a place. */
  readonly onLook: (place: string) => void;
  /** The lesson is about another state of the board. */
  readonly onBoard: (state: number) => void;
  readonly socket?: typeof WebSocket;
}

export class LessonSession {
  readonly isTeacher: boolean;
  readonly #options: LessonSessionOptions;
  readonly #doc = new Y.Doc();
  readonly #line: BoardLine;
  readonly #people = new Map<string, LearnerEntry>();
  #lesson: Lesson | null = null;
  #own: OwnNews = { name: '', told: [], count: 0 };
  #isAsked = false;
  #isLocked = false;
  /** How far the server's clock is ahead. */
  #aheadMs = 0;
  #place: string | null = null;
  #sentPlace: string | null = null;
  #says: LearnerSays | null = null;
  #wears: readonly string[] = [];
  #pace: ReturnType<typeof setTimeout> | undefined;
  readonly #sign: ReturnType<typeof setInterval>;
  /** What is drawn over the work and pointed at now. */
  readonly ink: FadingInk;
  #pointing: ReturnType<typeof setTimeout> | undefined;
  #pointed: readonly [number, number] | null = null;

  constructor(options: LessonSessionOptions) {
    this.#options = options;
    this.isTeacher = options.isTeacher;
    const { lesson, server, isTeacher, onChange, socket } = options;
    this.ink = new FadingInk(onChange);
    this.#line = new BoardLine({
      doc: this.#doc,
      room: roomName(lesson, 'lesson'),
      server,
      canEdit: isTeacher,
      onChange,
      ...(socket === undefined ? {} : { socket }),
    });
    const { provider } = this.#line;
    provider.messageHandlers[MESSAGE_LESSON] = (_encoder, decoder) => {
      const news = readNews(readLessonText(decoder) ?? '');
      if (news !== null) this.#hear(news);
      onChange();
    };
    provider.on('status', ({ status }: { status: string }) => {
      if (status === 'connected') this.#greet();
    });
    this.#doc.on('update', () => {
      this.#lesson = null;
      onChange();
    });
    this.#sign = setInterval(() => this.#saySoon(true), SIGN_MS);
    this.#line.connect();
  }

  /** The document, for whoever writes it. */
  get doc(): Y.Doc {
    return this.#doc;
  }

  get lesson(): Lesson {
    this.#lesson ??= readLesson(this.#doc);
    return this.#lesson;
  }

  get isConnected(): boolean {
    return this.#line.isConnected;
  }

  /** Whether the server closed the line for good: the lesson has ended, or one was put out. */
  get isOver(): boolean {
    return this.#line.isEnded;
  }

  get own(): OwnNews {
    return this.#own;
  }

  /** What a learner has said last. */
  get says(): LearnerSays | null {
    return this.#says;
  }

  /** Whether the teacher has asked if all are ready, and this one has not answered. */
  get isAsked(): boolean {
    return this.#isAsked;
  }

  get people(): readonly LearnerEntry[] {
    return [...this.#people.values()];
  }

  get isLocked(): boolean {
    return this.#isLocked;
  }

  /** The time by which the server tells what was said when. */
  now(): number {
    return Date.now() + this.#aheadMs;
  }

  /** Where this learner is. */
  at(place: LessonPlace): void {
    const text = placeText(place);
    if (text === this.#place) return;
    this.#place = text;
    this.#saySoon(false);
  }

  say(what: LearnerSays | null): void {
    this.#says = what;
    if (what === 'ready') this.#isAsked = false;
    this.#send({ kind: 'say', what });
    this.#options.onChange();
  }

  wears(colours: readonly string[]): void {
    if (colours.join() === this.#wears.join()) return;
    this.#wears = colours;
    this.#send({ kind: 'wears', colours });
  }

  askReady(): void {
    this.#send({ kind: 'ready?' });
  }

  callTo(place: LessonPlace): void {
    this.#send({ kind: 'look', place: placeText(place) });
  }

  /** A teacher points there; null = nowhere. What comes within a tenth of a second is one. */
  point(at: readonly [number, number] | null): void {
    this.#pointed = at;
    this.#pointing ??= setTimeout(() => {
      this.#pointing = undefined;
      this.#send({ kind: 'point', at: this.#pointed });
    }, POINT_MS);
  }

  /** A teacher draws; her own page shows it too. */
  draw(stroke: readonly number[]): void {
    this.ink.draw(stroke);
    this.#send({ kind: 'stroke', stroke });
  }

  tell(person: string, text: string): void {
    this.#send({ kind: 'tell', person, text });
  }

  /** Comes back at once where the line is not there, without waiting for the next try. */
  wake(): void {
    const { provider } = this.#line;
    if (this.#line.isConnected || this.#line.isEnded) return;
    provider.disconnect();
    provider.connect();
  }

  end(): void {
    clearTimeout(this.#pace);
    clearInterval(this.#sign);
    clearTimeout(this.#pointing);
    this.ink.clear();
    this.#line.destroy();
    this.#doc.destroy();
  }

  #greet(): void {
    this.#send({ kind: 'hello' });
    if (this.isTeacher) return;
    if (this.#wears.length > 0) this.#send({ kind: 'wears', colours: this.#wears });
    if (this.#says !== null) this.#send({ kind: 'say', what: this.#says });
    this.#saySoon(true);
  }

  #saySoon(isAgain: boolean): void {
    if (this.isTeacher) return;
    if (isAgain) this.#sentPlace = null;
    this.#pace ??= setTimeout(() => {
      this.#pace = undefined;
      if (this.#place === null || this.#place === this.#sentPlace) return;
      this.#sentPlace = this.#place;
      this.#send({ kind: 'at', place: this.#place });
      // What comes within a second waits for its end.
      this.#pace = setTimeout(() => {
        this.#pace = undefined;
        if (this.#place !== this.#sentPlace) this.#saySoon(false);
      }, PACE_MS);
    }, 0);
  }

  #hear(news: LessonNews): void {
    switch (news.kind) {
      case 'you':
        this.#own = { name: news.name, told: news.told, count: news.count };
        return;
      case 'count':
        this.#own = { ...this.#own, count: news.count };
        return;
      case 'roster':
        if (news.isWhole) this.#people.clear();
        for (const entry of news.people) this.#people.set(entry.person, entry);
        this.#isLocked = news.isLocked;
        this.#aheadMs = news.now - Date.now();
        return;
      case 'ready?':
        this.#isAsked = !this.isTeacher;
        if (this.#says === 'ready') this.#says = null;
        return;
      case 'look':
        this.#options.onLook(news.place);
        return;
      case 'board':
        this.#options.onBoard(news.state);
        return;
      case 'point':
        this.ink.point(news.at);
        return;
      case 'stroke':
        this.ink.draw(news.stroke);
        return;
    }
  }

  #send(saying: LessonSaying): void {
    const socket = this.#line.provider.ws;
    if (socket === null || socket.readyState !== socket.OPEN) return;
    socket.send(encodeLessonText(JSON.stringify(saying)) as Uint8Array<ArrayBuffer>);
  }
}
