import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { hangingAfter, stepKey, workOrder } from '../../../engine/index.ts';
import type { Aided } from '../../../web/table/aid-host.ts';
import { AidWhere, MOST_PLACES, sayPlace, whereabouts } from '../../../web/table/aid-where.ts';
import type { Keychain } from '../../../web/table/keychain-shelf.ts';
import { workAt } from '../../../web/table/table-work.ts';
import { sightOf, type View } from '../../../web/table/views.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';
import { stubPage } from '../../support/page-globals.ts';
import { elementsOf } from '../../support/template-elements.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('table');
});
afterAll(() => vi.unstubAllGlobals());

const ROWS = LOPSIDED.rows;
/** Strings that go all the way, so that few places hang alike, and one band in which all hang alike at every step. */
const MOVING = readBoard({ ...LOPSIDED, rows: [...ROWS, ...ROWS], strings: ['a', 'b', 'c', 'c', 'b', 'a'] });
const STILL = readBoard({
  ...LOPSIDED,
  strings: ['a', 'a', 'a', 'a', 'a', 'a'],
  rows: ['fb bf fb', 'fb fb', 'bf bf bf', 'fb bf'],
});

function aidedAt(board: typeof MOVING, done: number, view: View = 'same'): Aided {
  const { steps } = workOrder(board, { method: 'rows' });
  const tied = new Set(steps.slice(0, done).map(stepKey));
  return { keychain: { tied, view } as unknown as Keychain, begun: board, work: workAt(board, steps, tied) };
}
const hangsAt = ({ work: { board, steps } }: Aided, place: number): string[] =>
  Array.from(hangingAfter(6, steps.slice(0, place)), (string) => board.pattern.colours[string]!);

describe('where am I', () => {
  it('[N43] the places that fit are those at which these colours hang, nearest to the kept one first; fewer colours find none', () => {
    const aided = aidedAt(MOVING, 9);
    const { work } = aided;
    for (let place = 0; place <= work.steps.length; place++) {
      const hangs = hangsAt(aided, place);
      const alike = work.steps
        .map((_, at) => at)
        .concat(work.steps.length)
        .filter((at) => hangsAt(aided, at).join() === hangs.join())
        .sort((a, b) => Math.abs(a - 9) - Math.abs(b - 9) || a - b);
      const found = whereabouts(work, hangs, []);
      expect(found).toMatchObject({ kind: 'found', places: alike, hanging: alike.length });
      expect(found.kind === 'found' && found.ask !== null).toBe(
        alike.length > MOST_PLACES && (found as { ask: unknown }).ask !== null,
      );
      expect(whereabouts(work, hangs.slice(1), [])).toEqual({ kind: 'tapping' });
    }
  });

  it('[N43] a colour tapped after the other finds the place; tapping it makes it the maker’s', () => {
    const aided = aidedAt(MOVING, 4);
    const taken: unknown[] = [];
    const aid = new AidWhere({ update: () => {}, take: (patch) => taken.push(patch) });
    const button = (name: string) =>
      elementsOf(aid.render(aided)).find(
        ({ tag, attributes, words }) =>
          tag === 'button' && (attributes['aria-label'] ?? words).includes(name),
      );
    const names: Readonly<Record<string, string>> = { a: 'spruce', b: 'sand', c: 'straw' };
    for (const colour of hangsAt(aided, 4)) button(`${names[colour]} hangs next`)!.fire('click');
    const said = (): string => elementsOf(aid.render(aided)).find(({ tag }) => tag === 'p')!.words;
    expect(said()).toMatch(/Here you are|spots fit/);
    const mine = elementsOf(aid.render(aided)).find(
      ({ words, tag }) => tag === 'button' && /where you were/.test(words),
    );
    expect(mine!.words).toContain(sayPlace(aided.work, 4, sightOf('same')));
    mine!.fire('click');
    expect(taken).toEqual([{ tied: new Set(aided.work.steps.slice(0, 4).map(stepKey)) }]);
    button('Take the last one back')!.fire('click');
    expect(said()).toMatch(/Tap in the colours/);
    button('Begin anew')!.fire('click');
    for (let i = 0; i < 6; i++) button('straw hangs next')!.fire('click');
    expect(said()).toMatch(/^Nowhere in this keychain/);
  });

  it.each([
    ['from-right', 'right', true],
    ['opposite', 'right', false],
    ['same', 'left', false],
  ] as const)('[N102] in the view %s colours are tapped in from the %s', (view, side, isReversed) => {
    const aided = aidedAt(MOVING, 4, view);
    const aid = new AidWhere({ update: () => {}, take: () => {} });
    const all = () => elementsOf(aid.render(aided));
    expect(all().find(({ tag }) => tag === 'p')!.words).toContain(`as they hang, from the ${side}`);
    const names: Readonly<Record<string, string>> = { a: 'spruce', b: 'sand', c: 'straw' };
    const hangs = hangsAt(aided, 4);
    // Read from the other end they hang otherwise, so that the end is shown by what is found.
    expect(hangs.join()).not.toBe([...hangs].reverse().join());
    for (const colour of isReversed ? [...hangs].reverse() : hangs)
      all()
        .find(({ attributes }) => attributes['aria-label'] === `${names[colour]} hangs next`)!
        .fire('click');
    expect(all().some(({ tag, words }) => tag === 'button' && /where you were/.test(words))).toBe(true);
    expect(all().find(({ attributes }) => attributes.class?.startsWith('strip'))!.attributes.class).toBe(
      `strip ${side}`,
    );
  });

  it('[N43] where more than five hang alike it asks for the lowest knots until one is left, or says that colours can’t tell', () => {
    const alike = aidedAt(STILL, 3);
    const found = whereabouts(alike.work, Array(6).fill('a'), []);
    // Of one colour alone the knots tell by being there, not by their colour.
    expect(found).toMatchObject({ kind: 'found', hanging: alike.work.steps.length + 1 });
    let asked = 0;
    let state = found;
    const seen: { place: number; above: number; colour: string | null }[] = [];
    const at = 3;
    while (state.kind === 'found' && state.ask !== null) {
      const { place, above } = state.ask;
      const on = alike.work.steps
        .slice(0, at)
        .filter((step) => step.place === place || step.place === place - 1);
      seen.push({ place, above, colour: on.length > above ? 'a' : null });
      state = whereabouts(alike.work, Array(6).fill('a'), seen);
      expect(++asked).toBeLessThan(20);
    }
    expect(asked).toBeGreaterThan(0);
    expect(state.kind === 'found' && state.places.includes(at)).toBe(true);

    const aid = new AidWhere({ update: () => {}, take: () => {} });
    const press = (find: RegExp): void => {
      const one = elementsOf(aid.render(alike)).find(
        ({ tag, attributes, words }) => tag === 'button' && find.test(attributes['aria-label'] ?? words),
      );
      if (one === undefined) throw new Error(`no button says ${find}`);
      one.fire('click');
    };
    for (let i = 0; i < 6; i++) press(/spruce hangs next/);
    for (const { colour } of seen) press(colour === null ? /There is none/ : /^spruce$/);
    const said = elementsOf(aid.render(alike)).find(({ tag }) => tag === 'p')!.words;
    expect(said).toMatch(
      state.kind === 'found' && state.places.length === 1
        ? /Here you are/
        : /Colours can’t tell these \d+ spots apart/,
    );
  });
});

describe('spots that hang alike', () => {
  const rows = Array.from({ length: 5 }, () => ['fb bf fb', 'fb fb', 'bf bf bf', 'fb bf']).flat();
  /** Nothing on it crosses: every string keeps its place and its colour. */
  const still = (strings: readonly string[]) =>
    aidedAt(readBoard({ ...LOPSIDED, strings: [...strings], rows }), 20);
  const helped = (aided: Aided) => {
    const aid = new AidWhere({ update: () => {}, take: () => {} });
    const elements = () => elementsOf(aid.render(aided));
    const button = (name: RegExp) =>
      elements().find(
        ({ tag, attributes, words }) => tag === 'button' && name.test(attributes['aria-label'] ?? words),
      );
    return {
      button,
      press: (name: RegExp) => button(name)!.fire('click'),
      said: () => elements().find(({ tag }) => tag === 'p')!.words,
      spots: () => elements().filter(({ attributes }) => attributes.class === 'place').length,
    };
  };

  it('[N43] and that no colour tells apart are shown nearest first, all of them when they are wanted', () => {
    const { press, button, said, spots } = helped(still(Array(6).fill('a')));
    for (let i = 0; i < 6; i++) press(/spruce hangs next/);
    let asked = 0;
    for (; button(/^spruce$/) !== undefined; asked++) press(/^spruce$/);
    const [, count] = /these (\d+) spots apart/.exec(said())!;
    expect([Number(count) > MOST_PLACES, spots()]).toEqual([true, MOST_PLACES]);
    press(new RegExp(`All ${count} spots`));
    expect([spots(), button(/All \d+ spots/)]).toEqual([Number(count), undefined]);
    // What was seen last is taken back first; then it is asked for again.
    press(/Take the last one back/);
    expect([asked > 0, /lowest knot on the string/.test(said())]).toEqual([true, true]);
  });

  it('[N43] a few are shown at once, and the end of the work is one', () => {
    const aided = aidedAt(MOVING, 9);
    const { steps } = aided.work;
    const few = steps
      .map((_, place) => hangsAt(aided, place))
      .find((hangs) => {
        const found = whereabouts(aided.work, hangs, []);
        return found.kind === 'found' && found.places.length > 1 && found.places.length <= MOST_PLACES;
      })!;
    const { press, said, spots } = helped(aided);
    const names: Readonly<Record<string, string>> = { a: 'spruce', b: 'sand', c: 'straw' };
    for (const colour of few) press(new RegExp(`${names[colour]} hangs next`));
    expect(said()).toBe(`${spots()} spots fit, the nearest first. Tap yours.`);
    expect(sayPlace(aided.work, steps.length, sightOf('same'))).toBe('All is tied');
  });
});
