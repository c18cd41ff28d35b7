/** The outcome of a mutation run in words. */
import { type Place, SHARES, shareOf } from './places.ts';
import type { Result } from './record.ts';

/** One line for a place. */
export function lineOf(id: string, { outcome, by, test, ran, seconds }: Result): string {
  const how = by === null ? '' : ` by ${by}${test === '' ? '' : ` "${test}"`}`;
  return `${outcome}: ${id}${how} (${ran} files, ${Math.round(seconds)} s)`;
}

/** A table of the shares, then what survived with the line of its source, then what was unsteady. */
export function summaryOf(
  results: Readonly<Record<string, Result>>,
  places: readonly Place[],
  sourceLine: (place: Place) => string,
): string {
  const done = places.filter(({ id }) => results[id] !== undefined);
  const count = (among: readonly Place[], ...outcomes: Result['outcome'][]): number =>
    among.filter(({ id }) => outcomes.includes(results[id]!.outcome)).length;
  const rows = [...SHARES, 'all'].map((share) => {
    const mine = share === 'all' ? done : done.filter(({ file }) => shareOf(file) === share);
    const cells = [
      count(mine, 'caught', 'hangs', 'survived'),
      count(mine, 'caught'),
      count(mine, 'hangs'),
      count(mine, 'survived'),
      count(mine, 'does not compile'),
    ];
    return `| ${[share, ...cells].join(' | ')} |`;
  });
  const survivors = done
    .filter(({ id }) => results[id]!.outcome === 'survived')
    .map((place) => {
      const { reaching } = results[place.id]!;
      return `- ${place.id} (${reaching === 0 ? 'no test runs it' : `run by ${reaching} test files`})\n    ${sourceLine(place)}`;
    });
  const unsteady = done.flatMap(({ id }) =>
    results[id]!.unsteady.map(({ file, test, why }) => `- ${file ?? ''} "${test}" with ${id}: ${why}`),
  );
  return [
    '| part | places | caught | hangs | survived | replaced, did not compile |',
    '| --- | --- | --- | --- | --- | --- |',
    ...rows,
    ...(survivors.length > 0 ? ['', 'Survived:', ...survivors] : []),
    ...(unsteady.length > 0 ? ['', 'Failed once and not again, so not counted:', ...unsteady] : []),
  ].join('\n');
}
