/** Signs told apart by template: how many lozenges differ where they lie on each other best. */
import type { Drawing } from '../../engine/motif/drawing.ts';
import { placeSign, type Run } from '../../engine/motif/signs.ts';

export interface Template {
  readonly sign: string;
  readonly drawing: Drawing;
}

/** The templates of these signs as they lie on the band. */
export function templatesOf(signs: readonly string[], run: Run, size = 1): readonly Template[] {
  return signs.map((sign) => ({ sign, drawing: placeSign(sign, run, size).drawing }));
}

/** Keys of lozenges; see `lozengesApart`. */
export function keysOf(lozenges: Iterable<{ readonly x: number; readonly y: number }>): Set<number> {
  return new Set([...lozenges].map(({ x, y }) => keyOf(x, y)));
}

function keyOf(x: number, y: number): number {
  return (x + 500) * 1000 + y + 500;
}

/** Lozenges that are in one figure alone, laid on each other so that there are fewest. */
export function lozengesApart(figure: ReadonlySet<number>, template: Drawing, reach = 10): number {
  let most = 0;
  for (let dx = -reach; dx <= reach; dx++)
    for (let dy = -reach; dy <= reach; dy++) {
      if ((dx + dy) % 2 !== 0) continue;
      const both = template.lozenges.filter(({ x, y }) => figure.has(keyOf(x + dx, y + dy))).length;
      most = Math.max(most, both);
    }
  return figure.size + template.lozenges.length - 2 * most;
}
