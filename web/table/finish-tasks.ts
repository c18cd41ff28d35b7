/** What is left to do once the last knot is tied. */
import { type Board, TAIL_MM } from '../../engine/index.ts';

/** How the hanging strings are closed. */
type EndKnot = NonNullable<Board['piece']['endKnot']>;

/** One thing to do, by its name; it is kept under that name once it is done. */
export type FinishTask =
  | { readonly name: 'rows' }
  | { readonly name: 'close'; readonly knot: EndKnot }
  | { readonly name: 'trim'; readonly leftMm: number };

/** In the order in which it is done. Rule N14. */
export function finishTasks({
  end = 'straight',
  endKnot = 'overhand',
  tailMm,
}: Board['piece']): readonly FinishTask[] {
  return [
    ...(end === 'straight' ? [] : [{ name: 'rows' } as const]),
    { name: 'close', knot: endKnot },
    { name: 'trim', leftMm: tailMm ?? TAIL_MM[endKnot] },
  ];
}
