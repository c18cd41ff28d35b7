/** Staggered rows of exchanges, worked one by one. */

/**
 * Rows after which strings hang as asked, from the pattern upwards: neighbours of a row change places wherever they stand the wrong way round.
 * @param from for each place of the order mounted the place its string has in the order asked
 * @param start place at which the pattern's first row begins
 */
export function rowsFrom(from: readonly number[], start: 0 | 1): number {
  const goal = new Array<number>(from.length);
  from.forEach((place, at) => {
    goal[place] = at;
  });
  let rows = 0;
  while (goal.some((to, at) => to !== at)) {
    rows++;
    for (let place = (start + rows) & 1; place + 1 < goal.length; place += 2)
      if (goal[place]! > goal[place + 1]!) [goal[place], goal[place + 1]] = [goal[place + 1]!, goal[place]!];
  }
  return rows;
}
