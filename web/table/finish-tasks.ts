/** What is left to do once the last knot is tied. */
import { type Board, type EndKnot, endKnotOf, headKnotOf, TAIL_MM } from '../../engine/index.ts';

/** One thing to do, by its name; it is kept under that name once it is done. */
export type FinishTask =
  | { readonly name: 'rows' }
  | { readonly name: 'close'; readonly knot: EndKnot }
  /** Above the first row, where it was left open to be tied. */
  | { readonly name: 'head'; readonly knot: 'overhand' | 'braid' }
  | { readonly name: 'trim'; readonly leftMm: number };

/** In the order in which it is done. Rules N14, B285. */
export function finishTasks(piece: Board['piece']): readonly FinishTask[] {
  const { end = 'straight', tailMm } = piece;
  const knot = endKnotOf(piece);
  const head = openHead(piece);
  return [
    ...(end === 'straight' ? [] : [{ name: 'rows' } as const]),
    { name: 'close', knot },
    ...(head === null ? [] : [{ name: 'head', knot: head } as const]),
    { name: 'trim', leftMm: tailMm ?? TAIL_MM[knot] },
  ];
}

/** What is still to be made above the first row: a loop is closed and loose cords are knotted before the first row is tied. */
function openHead(piece: Board['piece']): 'overhand' | 'braid' | null {
  const knot = headKnotOf(piece);
  const isOpen = piece.begin === 'stick' || (piece.begin === 'loose' && knot === 'braid');
  return isOpen && knot !== 'none' ? knot : null;
}
