import { describe, expect, it } from 'vitest';
import { VisitsRead } from '../../../server/journal/read-visits.ts';
import type { RowSignature } from '../../../server/sync/index.ts';

const MINUTE = 60_000;

/** Rows as `<minute> <label> <name>, …`. */
function read(...rows: readonly string[]): VisitsRead {
  const visits = new VisitsRead();
  for (const row of rows) {
    const [at, ...shares] = row.split(/ (?=[\w.]+:)/);
    visits.note({
      at: Number(at) * MINUTE,
      shares: shares.map((share) => {
        const [visit, name] = share.split(':');
        return { visit, name, ends: [], removed: [] };
      }),
    } as unknown as RowSignature);
  }
  return visits;
}
const told = ({ all }: VisitsRead): readonly string[] =>
  all.map(({ id, name, began, last }) => `${id} ${name} ${began / MINUTE}-${last / MINUTE}`);

describe('visits in a log', () => {
  it('of one person within half an hour are one, whatever their labels, and a longer pause ends one', () => {
    const visits = read('0 ada.1:Ada', '20 ada.2:Ada', '25 bo.1:Bo', '51 ada.3:Ada', '60 ada.3:Ada');
    expect(told(visits)).toEqual(['ada.1 Ada 0-20', 'bo.1 Bo 25-25', 'ada.3 Ada 51-60']);
    expect(visits.of('ada.2')).toBe(visits.of('ada.1'));
    expect(visits.of('nobody.1')).toBeNull();
  });

  it('a label stays one visit however long its pauses are', () => {
    expect(told(read('0 ada.1:Ada', '100 ada.1:Ada'))).toEqual(['ada.1 Ada 0-100']);
  });

  it('go by the name last shown, and by none that was not', () => {
    expect(told(read('0 ada.1:', '1 ada.1:Ada', '2 ada.1:', '3 ada.1:Adele'))).toEqual(['ada.1 Adele 0-3']);
  });

  it('a row of several is each one’s; what nobody signed is nobody’s', () => {
    expect(told(read('4 ada.1:Ada server: bo.1:Bo', '5 .1:x'))).toEqual(['ada.1 Ada 4-4', 'bo.1 Bo 4-4']);
  });

  it('rows of clocks that differ do not set a visit back', () => {
    expect(told(read('10 ada.1:Ada', '4 ada.2:Ada', '12 ada.1:Ada'))).toEqual(['ada.1 Ada 10-12']);
  });
});
