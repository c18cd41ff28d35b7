/**
 * The way through a lesson: cords to cut, moves of mounting, knots, what is left to do. Places of a lesson become numbers on it, and keychains
 * places, whoever's hand it is: in the mirror a knot keeps its name for everybody else.
 */
import type { LessonPlace } from '../../engine/document/index.ts';
import { type Board, stepKey, type TiedKeys, type WorkStep } from '../../engine/index.ts';
import { type Cord, type Keychain, type MountMove, mountMoves } from '../table/index.ts';

/** The same folds in the mirror, in the same order of mounting, so that all mount by one plan. */
function mirrorCords(cords: readonly Cord[], strings: number): readonly Cord[] {
  const other = { left: 'right', right: 'left' } as const;
  return cords.map((cord): Cord => {
    const { left, right, cutMm, foldAtMm, longer } = cord;
    if (right === null) return { ...cord, left: strings - 1 - left };
    return {
      ...cord,
      left: strings - 1 - right,
      right: strings - 1 - left,
      foldAtMm: cutMm - foldAtMm,
      longer: longer === null ? null : other[longer],
    };
  });
}

/** What a way is laid of. */
export interface CourseParts {
  /** As they stand on the board that is not mirrored. */
  readonly cords: readonly Cord[];
  /** In the lesson's one order, of the board that is not mirrored. */
  readonly steps: readonly WorkStep[];
  readonly board: Pick<Board, 'pattern' | 'piece'>;
  readonly isMirrored: boolean;
}

export class Course {
  /** As this hand sees them. */
  readonly cords: readonly Cord[];
  /** In the lesson's one order, as they stand on the board that is not mirrored. */
  readonly steps: readonly WorkStep[];
  /** Of mounting, as this hand sees them. */
  readonly moves: readonly MountMove[];
  /** Number of the step of each knot, by the name that it has for everybody. */
  readonly #numbers = new Map<string, number>();
  /** What each step's knot is called on the board as this hand sees it. */
  readonly #keys: readonly string[];

  constructor({ cords, steps, board: { pattern, piece }, isMirrored }: CourseParts) {
    const strings = pattern.colours.length;
    this.cords = isMirrored ? mirrorCords(cords, strings) : cords;
    this.steps = steps;
    this.moves = mountMoves(this.cords, piece);
    this.#keys = isMirrored ? keysInMirror(steps, strings) : steps.map(stepKey);
    for (const [at, step] of steps.entries()) this.#numbers.set(stepKey(step), at);
  }

  /** How far a place is on the way: cutting, mounting, tying, finishing, each step 1. A knot that is not there is taken for the first. */
  far(place: LessonPlace): number {
    const mount = this.cords.length + 1;
    const tie = mount + this.moves.length + 1;
    const done = place.stage === 'tie' ? 0 : place.done;
    switch (place.stage) {
      case 'cut':
        return Math.min(done, this.cords.length);
      case 'mount':
        return mount + Math.min(done, this.moves.length);
      case 'tie':
        return tie + (place.knot === null ? this.steps.length : (this.#numbers.get(place.knot) ?? 0));
      case 'finish':
        return tie + this.steps.length + 1 + done;
      default:
        throw new TypeError(`unknown stage ${JSON.stringify(place satisfies never)}`);
    }
  }

  /** Steps of the whole way. */
  get length(): number {
    return this.far({ stage: 'finish', done: 0 });
  }

  /** The step that a place names; undefined where it is none of tying, or all are tied. */
  stepAt(place: LessonPlace): WorkStep | undefined {
    return place.stage !== 'tie' || place.knot === null
      ? undefined
      : this.steps[this.#numbers.get(place.knot) ?? 0];
  }

  /** Where a keychain is. */
  placeOf({ stage, cut, mounted, finished, tied }: Keychain): LessonPlace {
    switch (stage) {
      case 'cut':
        return { stage, done: cut.length };
      case 'mount':
        return { stage, done: mounted };
      case 'tie':
        return { stage, knot: this.nameOf(this.#keys.findIndex((key) => !tied.has(key))) ?? null };
      case 'finish':
        return { stage, done: finished.length };
      default:
        throw new TypeError(`unknown stage ${JSON.stringify(stage satisfies never)}`);
    }
  }

  /** The name of a step for everybody. */
  nameOf(step: number): string | undefined {
    const found = this.steps[step];
    return found === undefined ? undefined : stepKey(found);
  }

  /** The keychain as it is where a place is: what comes before is done, and nothing else. */
  at(place: LessonPlace, keychain: Keychain): Keychain {
    const { stage } = place;
    const isLater = (than: Keychain['stage']): boolean => ORDER.indexOf(stage) > ORDER.indexOf(than);
    const cut = stage === 'cut' ? place.done : this.cords.length;
    return {
      ...keychain,
      stage,
      cut: this.cords.slice(0, cut).map(({ left }) => left),
      mounted: stage === 'mount' ? place.done : isLater('mount') ? this.moves.length : 0,
      tied: this.#tiedAt(place),
    };
  }

  #tiedAt(place: LessonPlace): TiedKeys {
    if (place.stage === 'cut' || place.stage === 'mount') return new Set();
    const knot = place.stage === 'tie' ? place.knot : null;
    const before = knot === null ? this.steps.length : (this.#numbers.get(knot) ?? 0);
    return new Set(this.#keys.slice(0, before));
  }
}

const ORDER = ['cut', 'mount', 'tie', 'finish'] as const;

/** What each step's knot is called in the mirror: knots of a row are numbered from the left by their places. */
function keysInMirror(steps: readonly WorkStep[], strings: number): readonly string[] {
  return steps.map(
    ({ part, repeat, partRow, place }) => `${part} ${repeat} ${partRow} ${(strings - 2 - place) >> 1}`,
  );
}
