/** How the work is seen: what may be chosen when, and what becomes of a keychain with it. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { changeView, viewChoice } from '../../../web/table/view-choice.ts';
import { mirrorBoard, VIEWS, type View } from '../../../web/table/views.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { keychain } from '../../support/keychain.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';
import { stubPage } from '../../support/page-globals.ts';
import { elementsOf, elementWith } from '../../support/template-elements.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('table');
});
afterAll(() => vi.unstubAllGlobals());

const BOARD = readBoard(LOPSIDED);
/** The same from both sides. */
const EVEN = readBoard({ ...LOPSIDED, strings: ['a', 'b', 'c', 'c', 'b', 'a'], rows: ['f fb b', 'f b'] });
const TIED = { tied: new Set(['band 1 0 0']) };

describe('choosing a view', () => {
  const shown = (
    more: Parameters<typeof keychain>[1],
    board = BOARD,
    onView: (view: View) => void = () => {},
  ) => {
    const template = viewChoice(keychain('one', more), board, onView);
    const elements = elementsOf(template);
    return {
      offered: elements.filter(({ tag }) => tag === 'option').map(({ attributes }) => attributes.value),
      said: elements.filter(({ tag }) => tag === 'p').map(({ words }) => words),
      choose: (value: View) =>
        elementWith(template, { id: 'view' }, 'select').fire('change', { target: { value } }),
    };
  };

  it('[N71] all are offered while nothing hangs; then a mirror image and the rest cannot become each other', () => {
    const chosen: View[] = [];
    const { offered, said, choose } = shown({}, BOARD, (view) => chosen.push(view));
    expect([offered, said]).toEqual([[...VIEWS], []]);
    choose('opposite');
    expect(chosen).toEqual(['opposite']);
    for (const begun of [TIED, { mounted: 1 }]) {
      expect(shown(begun).offered).toEqual(['same', 'from-right', 'opposite']);
      expect(shown(begun).said).toHaveLength(1);
      expect(shown({ ...begun, view: 'mirror' }).offered).toEqual(['mirror']);
    }
  });

  it('[N73] of a mirror image it says how many knots differ, or that none does', () => {
    expect(shown({ view: 'mirror' }).said.join()).toMatch(/\d+ of 10/);
    const [alike] = shown({ view: 'mirror' }, EVEN).said;
    expect(alike).not.toMatch(/\d/);
  });
});

describe('another view of a keychain', () => {
  const cords = [
    { left: 0, right: 5 },
    { left: 1, right: 4 },
    { left: 2, right: null },
  ] as unknown as NonNullable<Parameters<typeof changeView>[2]>;

  it('[N71] of the same band changes nothing but from where it is seen', () => {
    const change = changeView(keychain('one', TIED), BOARD, cords, 'from-right');
    expect(change).toEqual({ patch: { view: 'from-right', firstHalf: 'right' }, board: null });
  });

  it('[N71] as a mirror image goes on with the mirrored board, cords that are cut by their new left places', () => {
    const change = changeView(keychain('one', { cut: [0, 2], declined: 'x' }), BOARD, cords, 'mirror');
    expect(change?.patch).toMatchObject({ view: 'mirror', cut: [0, 3], declined: '' });
    expect(change?.board).toEqual(mirrorBoard(BOARD));
    expect(changeView(keychain('one'), BOARD, null, 'mirror')?.patch).toMatchObject({ cut: [] });
  });

  it('[N71] cannot be a mirror image once it hangs or is tied, nor while the cords that are cut are not known', () => {
    for (const more of [TIED, { mounted: 1 }])
      expect(changeView(keychain('one', more), BOARD, cords, 'mirror')).toBeNull();
    expect(changeView(keychain('one', { cut: [0] }), BOARD, null, 'mirror')).toBeNull();
    expect(changeView(keychain('one', { ...TIED, view: 'mirror' }), BOARD, cords, 'same')).toBeNull();
  });
});
