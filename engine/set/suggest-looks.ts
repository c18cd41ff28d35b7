/** Colours that would suit a place in a colourway. */
import {
  differences,
  HARD_DIFFERENCE,
  hexToLab,
  labInEachSight,
  labToHex,
  SIGHTS,
  type SightLabs,
} from '../colour/index.ts';
import { isNeatOrder } from '../mount/index.ts';
import { type Board, type ColourId, type Colourway, isHung, paletteIn } from '../pattern/index.ts';

/** A colour for one palette colour of a colourway. */
export interface LookSuggestion {
  readonly hex: string;
  /** What it is called where it comes from; null for a colour made up here. */
  readonly name: string | null;
  /**
   * `known`: one of those given; `made`: made up; `join`: that of another colour of this colourway, with which the order mounts
   * neatly while it does not without.
   */
  readonly source: 'known' | 'made' | 'join';
  /** Least CIEDE2000 difference from the other colours on strings, in any sight; infinite when there are none. */
  readonly least: number;
  /** Whether that is below `HARD_DIFFERENCE`; such are given only when there are no better ones, or to join. */
  readonly isHard: boolean;
}

/** What {@link suggestLooks} may be told. */
export interface SuggestOptions {
  /** Colours at hand, such as those of the board and of other colourways. */
  readonly known?: readonly { readonly hex: string; readonly name: string }[];
  /** Most of them to give, 1 or more; default 10. */
  readonly most?: number;
}

/** Lightness and chroma of made-up colours: dark, middle, light, pale (own choice, no source). */
const RINGS: readonly (readonly [lightness: number, chroma: number])[] = [
  [30, 32],
  [48, 50],
  [68, 50],
  [86, 26],
];
const HUES = 12;

interface Candidate extends LookSuggestion {
  readonly labs: SightLabs;
}

/**
 * Colours for palette colour `colour` in a colourway that can be told from all its other colours on strings in every sight. First one to
 * join with, if only that makes the order neat; then known ones, then made ones, each time the one that is farthest
 * from those already given. Deterministic. O((known + made) x (colours + most)), and for an order that crosses O(colours x strings³).
 * @throws RangeError when a hex is not `#rrggbb` or `most` is not 1 or more. Rule E5.
 */
export function suggestLooks(
  board: Board,
  colourway: Colourway | null,
  colour: ColourId,
  { known = [], most = 10 }: SuggestOptions = {},
): readonly LookSuggestion[] {
  if (!(Number.isSafeInteger(most) && most >= 1)) throw new RangeError(`most ${most} is not 1 or more`);
  const onStrings = new Set(board.pattern.colours);
  const looks = paletteIn(board.palette, colourway);
  const present = looks.find(({ id }) => id === colour)?.hex;
  const others = looks.filter(({ id }) => id !== colour && onStrings.has(id));
  const otherLabs = others.map(({ hex }) => labInEachSight(hex));
  const seen = new Set(present === undefined ? [] : [present]);
  const candidate = (
    hex: string,
    name: string | null,
    source: LookSuggestion['source'],
  ): Candidate | null => {
    const lower = hex.toLowerCase();
    if (seen.has(lower)) return null;
    seen.add(lower);
    const labs = labInEachSight(lower);
    const least = Math.min(Number.POSITIVE_INFINITY, ...otherLabs.map((other) => leastOf(labs, other)));
    return { hex: lower, name, source, least, isHard: least < HARD_DIFFERENCE, labs };
  };
  const isReal = (one: Candidate | null): one is Candidate => one !== null;
  const joins = joinsOf(board, looks, colour)
    .map((one) => candidate(one.hex, one.name, 'join'))
    .filter(isReal);
  const atHand = known.map(({ hex, name }) => candidate(hex, name, 'known')).filter(isReal);
  const made = madeHexes()
    .map((hex) => candidate(hex, null, 'made'))
    .filter(isReal);

  const given: Candidate[] = joins.slice(0, 1);
  const half = Math.max(1, Math.ceil(most / 2));
  takeFarthest(
    given,
    atHand.filter(({ isHard }) => !isHard),
    Math.min(half, most - given.length),
  );
  takeFarthest(
    given,
    made.filter(({ isHard }) => !isHard),
    most - given.length,
  );
  // Beside many colours nothing may be far enough: then the best there is, and marked so.
  if (given.every(({ source }) => source === 'join'))
    given.push(...[...atHand, ...made].sort((a, b) => b.least - a.least).slice(0, Math.min(3, most)));
  return given.map(({ hex, name, source, least, isHard }) => ({ hex, name, source, least, isHard }));
}

/** Colours that the one could be the same as, so that the order is neat; none when it is neat without, or nothing is mounted. */
function joinsOf(
  { pattern, piece }: Board,
  looks: ReturnType<typeof paletteIn>,
  colour: ColourId,
): ReturnType<typeof paletteIn> {
  if (!isHung(piece)) return [];
  const hexOf = new Map(looks.map(({ id, hex }) => [id, hex]));
  const order = (own: string): string[] =>
    pattern.colours.map((id) => (id === colour ? own : hexOf.get(id)!));
  if (!pattern.colours.includes(colour) || isNeatOrder(order(''))) return [];
  const onStrings = new Set(pattern.colours);
  return looks.filter(({ id, hex }) => id !== colour && onStrings.has(id) && isNeatOrder(order(hex)));
}

function takeFarthest(given: Candidate[], from: readonly Candidate[], count: number): void {
  const left = [...from];
  for (let n = 0; n < count && left.length > 0; n++) {
    let best = 0;
    let bestScore = -1;
    left.forEach((one, i) => {
      // From those given in the same breath only the normal sight counts: they are alternatives, not neighbours.
      const apart = Math.min(
        ...given.map((other) => differences(one.labs, other.labs).normal),
        Number.POSITIVE_INFINITY,
      );
      const score = Math.min(one.least, apart);
      if (score > bestScore) [best, bestScore] = [i, score];
    });
    given.push(...left.splice(best, 1));
  }
}

function leastOf(one: SightLabs, two: SightLabs): number {
  const deltaE = differences(one, two);
  return Math.min(...SIGHTS.map((sight) => deltaE[sight]));
}

/** Made-up colours that a screen can show: those that come back from their hex as they went in. */
function madeHexes(): readonly string[] {
  return RINGS.flatMap(([lightness, chroma]) =>
    Array.from({ length: HUES }, (_, i) => {
      const angle = ((i * 360) / HUES + 15) * (Math.PI / 180);
      return labToHex([lightness, chroma * Math.cos(angle), chroma * Math.sin(angle)]);
    }).filter((hex) => {
      const [, a, b] = hexToLab(hex);
      return Math.abs(Math.hypot(a, b) - chroma) < 4;
    }),
  );
}
