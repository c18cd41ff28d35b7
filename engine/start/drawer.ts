/** Boards that can be made from what is at home. */
import { cutList } from '../material/index.ts';
import type { Board, Piece } from '../pattern/index.ts';
import { beginBoard } from './begin.ts';
import { drawsFrom, shuffled } from './draws.ts';
import { BEGINNING_KINDS, fitShape, type Shape } from './shape.ts';

/** A thread at home: in one piece, or in pieces of which each is long enough for what is cut of it. */
export interface DrawerThread {
  readonly name: string;
  readonly hex: string;
  readonly haveMm: number;
}

/** A board, and what is left of each of its threads. */
interface DrawerBoard {
  readonly shape: Shape;
  readonly board: Board;
  /** In the order of the board's palette, in mm. */
  readonly leftMm: readonly number[];
}

interface DrawerOptions {
  /** What is to be made; default a piece of one repeat. */
  readonly piece?: Piece;
  /** Strings that may be taken, rising; default 8 to 24, even. */
  readonly strings?: readonly number[];
  readonly seed?: number;
  /** At most so many; default 6. */
  readonly count?: number;
}

/** Most colours of the drawer that one board takes. */
const MOST_COLOURS = 4;

/**
 * Boards of which every thread is at home: of each figure those with most strings first, then with most colours, the figures in the order
 * of the seed. Of a board's colours the one that takes most gets the longest thread.
 * @throws FieldRangeError when a field of `piece` is out of range
 * Same drawer and seed, same boards. Costs a cutting list for each figure, number of strings and number of colours. Rule J45.
 */
export function boardsFromDrawer(
  drawer: readonly DrawerThread[],
  { piece = {}, strings = EVEN_STRINGS, seed = 1, count = 6 }: DrawerOptions = {},
): readonly DrawerBoard[] {
  const threads = [...drawer].filter(({ haveMm }) => haveMm > 0).sort((a, b) => b.haveMm - a.haveMm);
  if (threads.length < 2) return [];
  const found: DrawerBoard[] = [];
  for (const kind of shuffled(BEGINNING_KINDS, drawsFrom(seed))) {
    if (found.length >= count) break;
    const shapes = strings.toReversed().flatMap((many) =>
      [4, 3, 2]
        .filter((colours) => colours <= Math.min(MOST_COLOURS, threads.length))
        .map((colours) => fitShape(kind, many, { colours }))
        .filter((shape) => shape.strings === many),
    );
    for (const shape of shapes) {
      const made = fromThreads(shape, threads, piece);
      if (made === null) continue;
      found.push(made);
      break;
    }
  }
  return found;
}

const EVEN_STRINGS: readonly number[] = [8, 10, 12, 14, 16, 18, 20, 22, 24];

function fromThreads(shape: Shape, threads: readonly DrawerThread[], piece: Piece): DrawerBoard | null {
  const ids = Array.from({ length: shape.colours }, (_, i) => ({ id: `c${i}`, name: '', hex: '#000000' }));
  const bare = { ...beginBoard(shape, ids), piece };
  const takes = new Map<string, number>();
  const cut = cutList(bare);
  for (const { colour, cutMm } of [...cut.folds, ...cut.singles])
    takes.set(colour, (takes.get(colour) ?? 0) + cutMm);
  const byNeed = ids.map(({ id }) => id).sort((a, b) => (takes.get(b) ?? 0) - (takes.get(a) ?? 0));
  const threadOf = new Map(byNeed.map((id, i) => [id, threads[i]!]));
  const leftMm = ids.map(({ id }) => threadOf.get(id)!.haveMm - (takes.get(id) ?? 0));
  if (leftMm.some((left) => left < 0)) return null;
  const palette = ids.map(({ id }) => {
    const { name, hex } = threadOf.get(id)!;
    return { id, name, hex };
  });
  return { shape, board: { ...bare, palette }, leftMm };
}
