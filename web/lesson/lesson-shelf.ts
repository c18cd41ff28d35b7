/** What a browser keeps of a lesson: how one sees it, one's own colours, the keychain. It goes when the lesson has ended. */
import { firstHalfIn, freshKeychain, type Keychain, KeychainShelf, type View } from '../table/index.ts';

/** As the table sees it, but begun from the same end, since all tie in one order; `mirror` is for the left hand. */
export const LESSON_VIEWS = ['same', 'mirror', 'opposite'] as const satisfies readonly View[];
export type LessonView = (typeof LESSON_VIEWS)[number];

/** How somebody works, on this device alone. */
export interface OwnWays {
  readonly view: LessonView;
  /** A colourway of the board; null = the board's own colours. */
  readonly colourway: string | null;
  /** Own colours in place of those, by the id of the colour. */
  readonly colours: Readonly<Record<string, string>>;
  /** Whether one follows the teacher; null = that was never chosen. */
  readonly isFollowing: boolean | null;
}

const KEYCHAIN = 'lesson';
const HEX = /^#[0-9a-f]{6}$/;
const keyOf = (lesson: string): string => `larkboard.lesson.${lesson}`;

export class LessonShelf {
  readonly #lesson: string;
  readonly #keychains: KeychainShelf;

  constructor(lesson: string) {
    this.#lesson = lesson;
    this.#keychains = new KeychainShelf(lesson, localStorage);
  }

  /** The keychain that is made in this lesson, seen so; a fresh one at first. */
  keychain(view: LessonView): Keychain {
    const of = { view, firstHalf: firstHalfIn(view), method: 'rows', size: 'row' } as const;
    return this.#keychains.find(KEYCHAIN) ?? freshKeychain(KEYCHAIN, of);
  }

  /** @returns whether there was room to keep it */
  keep(keychain: Keychain): boolean {
    return this.#keychains.keep(keychain);
  }

  /** Whether this browser has come to the door of the lesson before. */
  get hasCome(): boolean {
    return localStorage.getItem(keyOf(this.#lesson)) !== null;
  }

  get ways(): OwnWays {
    let kept: Partial<Record<keyof OwnWays, unknown>> = {};
    try {
      kept = (JSON.parse(localStorage.getItem(keyOf(this.#lesson)) ?? '{}') ?? {}) as typeof kept;
    } catch (error) {
      if (!(error instanceof SyntaxError)) throw error;
    }
    const colours = Object.entries((kept.colours ?? {}) as Record<string, unknown>);
    return {
      view: LESSON_VIEWS.find((view) => view === kept.view) ?? 'same',
      colourway: typeof kept.colourway === 'string' ? kept.colourway : null,
      colours: Object.fromEntries(
        colours.filter((one): one is [string, string] => typeof one[1] === 'string' && HEX.test(one[1])),
      ),
      isFollowing: typeof kept.isFollowing === 'boolean' ? kept.isFollowing : null,
    };
  }

  /** @returns whether there was room to keep it */
  keepWays(ways: OwnWays): boolean {
    try {
      localStorage.setItem(keyOf(this.#lesson), JSON.stringify(ways));
      return true;
    } catch (error) {
      // Full, or not allowed: whoever asked says so.
      if (!(error instanceof DOMException)) throw error;
      return false;
    }
  }

  /** The lesson has ended: nothing of it stays here. */
  drop(): void {
    localStorage.removeItem(keyOf(this.#lesson));
    this.#keychains.remove(KEYCHAIN);
  }
}
