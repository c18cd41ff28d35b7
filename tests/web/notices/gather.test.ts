/** When a maker is told of what others did, and what is told at once: by a clock that the test turns. */
import { describe, expect, it } from 'vitest';
import type { KeyChange, Lost } from '../../../engine/document/index.ts';
import { type Doer, Gatherer, type Notice } from '../../../web/notices/gather.ts';
import { HandClock } from '../../support/hand-clock.ts';

const TOM: Doer = { id: 'tom', name: 'Tom' };
const INA: Doer = { id: 'ina', name: 'Ina' };
const NOBODY: Doer = { id: null, name: '' };

function change(key: string, after: unknown = 1): KeyChange {
  return { root: 'knots', key, before: 2, after };
}

const lose = (key: string, kind: Lost['kind'] = 'knot'): Lost => ({
  kind,
  thing: `knots ${key}`,
  isRemoved: false,
  isWhole: false,
  change: change(key),
});
const many = (prefix: string, count: number): Lost[] =>
  Array.from({ length: count }, (_, i) => lose(`${prefix}${i}`));

function told() {
  const clock = new HandClock();
  const people = new Map<number | null, Doer>([
    [1, TOM],
    [2, INA],
    // Another tab of Tom's.
    [3, TOM],
  ]);
  const notices: (Notice | null)[] = [];
  const gatherer = new Gatherer({
    after: clock.after,
    elapsed: clock.elapsed,
    whoIs: (client) => people.get(client) ?? NOBODY,
    onNotice: (notice) => notices.push(notice),
  });
  /** What was told, in short: who, and how many things. */
  const said = (): readonly string[] =>
    notices.map((notice) => (notice === null ? '-' : `${notice.who.name || '?'} ${notice.lost.length}`));
  return { clock, gatherer, notices, said, people };
}

describe('gathering', () => {
  it('[W980] what one person does is told at once: twelve knots are one notice, and nothing before they are in', () => {
    const { clock, gatherer, said } = told();
    for (const one of many('a', 12)) {
      gatherer.add(1, [one]);
      clock.turn(100);
    }
    expect(said()).toEqual([]);
    clock.turn(2_000);
    expect(said()).toEqual(['Tom 12']);
    // Nothing more comes by itself.
    clock.turn(600_000);
    expect([said(), clock.waiting]).toEqual([['Tom 12'], 0]);
  });

  it('[W981] at most one notice in 30 s: what the same person goes on doing joins the one that is there', () => {
    const { clock, gatherer, said } = told();
    gatherer.add(1, many('a', 2));
    clock.turn(2_000);
    for (let second = 0; second < 29; second++) {
      gatherer.add(second % 2 === 0 ? 1 : 3, [lose(`b${second}`)]);
      clock.turn(1_000);
    }
    expect(said()).toEqual(['Tom 2']);
    clock.turn(1_000);
    expect(said()).toEqual(['Tom 2', 'Tom 31']);
    gatherer.add(1, [lose('c')]);
    clock.turn(29_000);
    expect(said()).toHaveLength(2);
    clock.turn(1_000);
    expect(said().at(-1)).toBe('Tom 32');
  });

  it('[W981] two people are two notices: the other waits until the first was seen, and 30 s', () => {
    const { clock, gatherer, said } = told();
    gatherer.add(1, many('a', 3));
    gatherer.add(2, many('b', 4));
    gatherer.add(1, many('c', 2));
    clock.turn(2_000);
    expect(said()).toEqual(['Tom 5']);
    clock.turn(300_000);
    expect(said()).toEqual(['Tom 5']);
    gatherer.close();
    clock.turn(0);
    expect(said()).toEqual(['Tom 5', '-', 'Ina 4']);
    gatherer.close();
    gatherer.add(1, [lose('d')]);
    clock.turn(29_999);
    expect(said().at(-1)).toBe('-');
    clock.turn(1);
    expect(said().at(-1)).toBe('Tom 1');
  });

  it('[W982] who it was is asked when it is told: on coming back one hears who is there only then', () => {
    const { clock, gatherer, people, notices } = told();
    gatherer.add(7, [lose('a')]);
    people.set(7, INA);
    clock.turn(2_000);
    expect(notices[0]!.who).toEqual(INA);
    gatherer.close();
    gatherer.add(8, [lose('b')]);
    clock.turn(30_000);
    expect(notices.at(-1)!.who).toEqual(NOBODY);
  });

  it('[W983] what is as it was again is not told, and goes from what is', () => {
    const { clock, gatherer, said, notices } = told();
    gatherer.add(1, many('a', 3));
    gatherer.wentOn(1, [change('a0', 2)], () => true);
    clock.turn(2_000);
    expect(said()).toEqual(['Tom 2']);
    // What the same person changes again is still theirs; another's change of it leaves it as it was told.
    gatherer.wentOn(1, [change('a1', 3)], () => false);
    gatherer.wentOn(2, [change('a2', 4)], () => false);
    expect(notices.at(-1)!.lost.map((one) => one.change.after)).toEqual([3, 1]);
    gatherer.wentOn(2, [change('a1', 2), change('a2', 2)], () => true);
    expect(said().at(-1)).toBe('-');
    gatherer.add(1, [lose('b')]);
    gatherer.wentOn(1, [change('b', 2)], () => true);
    clock.turn(60_000);
    expect(said().at(-1)).toBe('-');
  });

  it('[W983] what the maker writes over herself is no loss any more', () => {
    const { clock, gatherer, said } = told();
    gatherer.add(1, many('a', 2));
    gatherer.did([change('a0')]);
    clock.turn(2_000);
    expect(said()).toEqual(['Tom 1']);
    gatherer.did([change('elsewhere')]);
    expect(said()).toEqual(['Tom 1']);
    gatherer.did([change('a1')]);
    expect(said()).toEqual(['Tom 1', '-']);
  });

  it('[W984] while a lesson is followed nothing is told, nor afterwards what was done meanwhile', () => {
    const { clock, gatherer, said } = told();
    gatherer.add(1, many('a', 2));
    clock.turn(2_000);
    gatherer.add(1, many('b', 2));
    gatherer.hold(true);
    expect(said()).toEqual(['Tom 2', '-']);
    gatherer.add(2, many('c', 9));
    clock.turn(600_000);
    gatherer.hold(false);
    clock.turn(600_000);
    expect(said()).toEqual(['Tom 2', '-']);
    gatherer.add(2, [lose('d')]);
    clock.turn(2_000);
    expect(said().at(-1)).toBe('Ina 1');
  });

  it('tells nothing once it is let go', () => {
    const { clock, gatherer, said } = told();
    gatherer.add(1, [lose('a')]);
    gatherer.dispose();
    clock.turn(60_000);
    expect([said(), clock.waiting]).toEqual([[], 0]);
  });
});
