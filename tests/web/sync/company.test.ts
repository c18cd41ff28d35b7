/** Who is at a board: persons and not tabs, also while the line is broken, and for a while after they left. */
import { beforeEach, describe, expect, it } from 'vitest';
import { Subject } from '../../../web/context/index.ts';
import { Company, type Heard } from '../../../web/sync/company.ts';
import type { PersonHere, PersonLeft } from '../../../web/sync/people-here.ts';
import { HandClock } from '../../support/hand-clock.ts';

let clock: HandClock;
let company: Company;
let people: Subject<readonly PersonHere[]>;
let wereHere: Subject<readonly PersonLeft[]>;
beforeEach(() => {
  clock = new HandClock();
  people = new Subject<readonly PersonHere[]>([]);
  wereHere = new Subject<readonly PersonLeft[]>([]);
  company = new Company({ people, left: wereHere, now: clock.now, after: clock.after });
});

const tab = (clientId: number, id: string, row = 0): Heard => ({
  clientId,
  presence: {
    person: { id, name: id.toUpperCase(), hex: '#112233' },
    cursor: null,
    selection: null,
    view: { fromRow: row, toRow: row },
  },
});
const ME = tab(1, 'me');
const hear = (others: readonly Heard[], changed: readonly number[] = [], isConnected = true): void =>
  company.hear(ME, others, changed, isConnected);
const here = (): readonly string[] =>
  people.value.map(({ presence: { person }, isUnheard }) => person.id + (isUnheard ? '?' : ''));
const left = (): readonly string[] => wereHere.value.map(({ person }) => person.id);

describe('tabs', () => {
  it('[W942] of one person are one, shown by the tab in which they did something last; one’s own are oneself', () => {
    hear([tab(5, 'fay', 5), tab(3, 'fay', 3), tab(4, 'me')], [3, 5]);
    expect(here()).toEqual(['me', 'fay']);
    expect(people.value[0]).toMatchObject({ self: true, clientId: 1 });
    expect(people.value[1]).toMatchObject({ self: false, clientId: 5 });
    hear([tab(5, 'fay', 5), tab(3, 'fay', 4)], [3]);
    expect(people.value[1]?.presence.view?.fromRow).toBe(4);
    hear([tab(5, 'fay', 5)]);
    expect([here(), left()]).toEqual([['me', 'fay'], []]);
  });
});

describe('who was here', () => {
  it('[W943] is shown for a quarter of an hour, the last first, or until they are back', () => {
    hear([tab(2, 'fay'), tab(3, 'kit')]);
    hear([tab(3, 'kit')]);
    clock.turn(60_000);
    hear([]);
    expect([here(), left()]).toEqual([['me'], ['kit', 'fay']]);
    expect(wereHere.value[1]?.at).toBe(clock.now() - 60_000);
    // With a reload comes another tab.
    hear([tab(9, 'kit')]);
    expect([here(), left()]).toEqual([['me', 'kit'], ['fay']]);
    clock.turn(14 * 60_000 - 1);
    expect(left()).toEqual(['fay']);
    clock.turn(1);
    expect([left(), clock.waiting]).toEqual([[], 0]);
  });

  it('[W943] no more than twelve', () => {
    hear(Array.from({ length: 20 }, (_, i) => tab(10 + i, `p${i}`)));
    hear([]);
    expect(left()).toHaveLength(12);
    company.dispose();
    expect(clock.waiting).toBe(0);
  });
});

describe('without a connection', () => {
  it('[W944] the others stay as they were last heard of; with it, who is not heard again has left', () => {
    hear([tab(2, 'fay', 7), tab(3, 'kit')]);
    hear([], [], false);
    expect([here(), left()]).toEqual([['me', 'fay?', 'kit?'], []]);
    expect(people.value[1]?.presence.view?.fromRow).toBe(7);
    hear([tab(2, 'fay', 7)], [2], true);
    expect([here(), left()]).toEqual([['me', 'fay'], ['kit']]);
  });
});
