/**
 * Where somebody is in a lesson: a stage of making and how far in it. While tying it is the knot that comes next, by its address, so that it
 * means the same under every order of work, in every colour and for either hand.
 *
 * As text: `cut 3`, `mount 2`, `tie band 1 4 2`, `tie` when all is tied, `finish 0`.
 */
import { readKnotKey } from '../../table/index.ts';

/** A place in a lesson. */
export type LessonPlace =
  /** So many cords are cut, moves of mounting made, or things of the finish done. */
  | { readonly stage: 'cut' | 'mount' | 'finish'; readonly done: number }
  /** The key of the next knot (H1 in engine/RULES.md); null when all are tied. */
  | { readonly stage: 'tie'; readonly knot: string | null };

/** Characters that the text of a place has at most. */
export const MAX_PLACE_CHARACTERS = 'tie band 9999999 9999999 999'.length;
const COUNTED = /^(cut|mount|finish) (\d{1,5})$/;
const TIE = 'tie';

/** The text of a place. */
export function placeText(place: LessonPlace): string {
  if (place.stage !== TIE) return `${place.stage} ${place.done}`;
  return place.knot === null ? TIE : `${TIE} ${place.knot}`;
}

/** The place of a text; null when it names none. The inverse of {@link placeText}. Rule D380. */
export function readPlace(text: unknown): LessonPlace | null {
  if (typeof text !== 'string' || text.length > MAX_PLACE_CHARACTERS) return null;
  const counted = COUNTED.exec(text);
  if (counted !== null) {
    const place = { stage: counted[1] as 'cut' | 'mount' | 'finish', done: Number(counted[2]) };
    return placeText(place) === text ? place : null;
  }
  if (text === TIE) return { stage: TIE, knot: null };
  if (!text.startsWith(`${TIE} `)) return null;
  const knot = text.slice(TIE.length + 1);
  return readKnotKey(knot) === null ? null : { stage: TIE, knot };
}
