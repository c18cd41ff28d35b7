/**
 * What is said in a lesson beside its document, as data: never stored, each message the JSON of one object in a frame `[105, text]`. What a
 * client says names nobody but whom a teacher answers: who says it is known by the cookie of the socket.
 */
import { LIMITS } from '../wire.ts';
import { readStroke, type Stroke } from './lesson.ts';
import { MAX_PLACE_CHARACTERS, readPlace } from './place.ts';

/** `ready` answers a question. */
const LEARNER_SAYS = ['stuck', 'hand', 'done', 'ready'] as const;
/** What a learner says of herself. */
export type LearnerSays = (typeof LEARNER_SAYS)[number];

/** Characters of what a teacher tells one learner. */
export const MAX_TOLD_CHARACTERS = 300;
/** Characters of one message, as text. */
const MAX_LESSON_MESSAGE = 8 * 1024;
/** Colours that one learner names. */
const MAX_COLOURS = 40;
const HEX = /^#[0-9a-f]{6}$/;

/** A place over the work: string and row, two decimals. */
type Spot = readonly [string: number, row: number];

/** What a client says. */
export type LessonSaying =
  /** Asks for what goes on; the first thing that is said. */
  | { readonly kind: 'hello' }
  // Of learners.
  | { readonly kind: 'at'; readonly place: string }
  | { readonly kind: 'say'; readonly what: LearnerSays | null }
  | { readonly kind: 'wears'; readonly colours: readonly string[] }
  // Of teachers.
  | { readonly kind: 'point'; readonly at: Spot | null }
  | { readonly kind: 'stroke'; readonly stroke: Stroke }
  | { readonly kind: 'look'; readonly place: string }
  | { readonly kind: 'ready?' }
  | { readonly kind: 'tell'; readonly person: string; readonly text: string };

/** One learner, as teachers hear of her. Times are those of the server, in ms since 1970. */
export interface LearnerEntry {
  readonly person: string;
  readonly name: string;
  /** `waiting` before the door, `in`, or `out`: removed for this lesson. */
  readonly state: 'waiting' | 'in' | 'out';
  /** By {@link readPlace}; null before she has said any. */
  readonly place: string | null;
  readonly says: LearnerSays | null;
  /** Since when she has said so. */
  readonly saidAt: number;
  /** When she was last heard of; 0 = never. */
  readonly seenAt: number;
  readonly colours: readonly string[];
  readonly told: readonly Told[];
}

/** What a teacher told a learner. */
export interface Told {
  readonly at: number;
  readonly text: string;
}

/** What the server says. */
export type LessonNews =
  /** To learners: their own name, what they were told, how many are in, whether they are asked if they are ready. */
  | {
      readonly kind: 'you';
      readonly name: string;
      readonly says: LearnerSays | null;
      readonly told: readonly Told[];
      readonly count: number;
      readonly state: number;
    }
  | { readonly kind: 'count'; readonly count: number }
  // To teachers alone.
  | {
      readonly kind: 'roster';
      /** The server's time. */
      readonly now: number;
      readonly isLocked: boolean;
      readonly people: readonly LearnerEntry[];
      /** Whether these are all; else those that changed. */
      readonly isWhole: boolean;
    }
  // To everybody.
  | { readonly kind: 'point'; readonly at: Spot | null }
  | { readonly kind: 'stroke'; readonly stroke: Stroke }
  | { readonly kind: 'look'; readonly place: string }
  | { readonly kind: 'ready?' }
  /** The lesson is about another state of the board now. */
  | { readonly kind: 'board'; readonly state: number };

/** Who may say what. The first greeting is everybody's. Rule D385. */
export function isSaidBy(kind: LessonSaying['kind'], who: 'teacher' | 'learner'): boolean {
  if (kind === 'hello') return true;
  const isLearners = kind === 'at' || kind === 'say' || kind === 'wears';
  return isLearners === (who === 'learner');
}

/** Reads what a client says; null when it is nothing that can be said. Rule D385. */
export function readSaying(text: string): LessonSaying | null {
  const value = text.length > MAX_LESSON_MESSAGE ? null : parse(text);
  if (typeof value !== 'object' || value === null) return null;
  const said = value as Readonly<Record<string, unknown>>;
  switch (said.kind) {
    case 'hello':
    case 'ready?':
      return { kind: said.kind };
    case 'at':
    case 'look':
      return isPlaceText(said.place) ? { kind: said.kind, place: said.place } : null;
    case 'say': {
      const what = LEARNER_SAYS.find((one) => one === said.what);
      return what !== undefined || said.what === null ? { kind: 'say', what: what ?? null } : null;
    }
    case 'wears': {
      const { colours } = said;
      const isList = Array.isArray(colours) && colours.length <= MAX_COLOURS;
      return isList && colours.every((one) => typeof one === 'string' && HEX.test(one))
        ? { kind: 'wears', colours }
        : null;
    }
    case 'point': {
      if (said.at === null) return { kind: 'point', at: null };
      const at = Array.isArray(said.at) && said.at.length === 2 ? readStroke([...said.at, ...said.at]) : null;
      return at === null ? null : { kind: 'point', at: [at[0]!, at[1]!] };
    }
    case 'stroke': {
      const stroke = readStroke(said.stroke);
      return stroke === null ? null : { kind: 'stroke', stroke };
    }
    case 'tell': {
      const { person, text: words } = said;
      const isTold = typeof words === 'string' && words.trim() !== '' && words.length <= MAX_TOLD_CHARACTERS;
      return isTold && typeof person === 'string' && person.length <= LIMITS.nameCharacters
        ? { kind: 'tell', person, text: words }
        : null;
    }
    default:
      return null;
  }
}

function isPlaceText(value: unknown): value is string {
  return typeof value === 'string' && value.length <= MAX_PLACE_CHARACTERS && readPlace(value) !== null;
}

/** What the server says, as the page reads it; null when it is no JSON of an object with a kind. */
export function readNews(text: string): LessonNews | null {
  const value = parse(text) as { readonly kind?: unknown } | null | undefined;
  return typeof value === 'object' && typeof value?.kind === 'string' ? (value as LessonNews) : null;
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return null;
  }
}
