/** A route that takes no search. */
import { isCrossing, type KnotCode } from '../pattern/index.ts';
import { ANY_KNOT, eachKnot, type Route, type Routing } from './routing.ts';

/**
 * Strings that stay where they hang, kept knots apart: of the colours given at the top, else all of the colour most wanted. Null where what
 * hangs below matters, or where one colour alone breaks the rule for odd counts.
 */
export function plainRoute(routing: Routing): Route | null {
  const { strings, rows, colours, wishes, kept, top, bottom, seam } = routing;
  if (bottom !== null || seam >= 0) return null;
  if (top.given === null && strings % 2 === 1 && top.mostOdd < 1) return null;
  const wanted = new Int32Array(colours);
  for (const wish of wishes) if (wish >= 0) wanted[wish]!++;
  const most = wanted.indexOf(Math.max(...wanted));
  const route: Route = new Uint8Array((rows + 1) * strings);
  for (let place = 0; place < strings; place++) route[place] = top.given === null ? most : top.given[place]!;
  let filled = 0;
  const fillTo = (row: number): void => {
    for (; filled < row; filled++)
      route.copyWithin((filled + 1) * strings, filled * strings, (filled + 1) * strings);
  };
  eachKnot(routing, 0, rows, ({ row, cell, place }) => {
    fillTo(row + 1);
    const code = kept[cell]!;
    if (code === ANY_KNOT || !isCrossing(code as KnotCode)) return;
    const above = row * strings + place;
    route[above + strings] = route[above + 1]!;
    route[above + strings + 1] = route[above]!;
  });
  fillTo(rows);
  return route;
}
