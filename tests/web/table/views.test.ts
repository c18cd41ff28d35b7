import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, groupSteps, workOrder } from '../../../engine/index.ts';
import { cordsOf } from '../../../web/table/cords.ts';
import type { Keychain } from '../../../web/table/keychain-shelf.ts';
import { sayGroup } from '../../../web/table/say-group.ts';
import { tieDrawing } from '../../../web/table/tie-drawing.ts';
import { changeView } from '../../../web/table/view-choice.ts';
import {
  cordSeen,
  firstHalfIn,
  knotSeen,
  mirrorBoard,
  mirrorDifference,
  placeSeen,
  placesCounted,
  sightOf,
  VIEWS,
  type View,
} from '../../../web/table/views.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';
import { stubPage } from '../../support/page-globals.ts';
import { markupOf } from '../../support/template-text.ts';

const FILE = {
  format: 'larkboard',
  version: 1,
  palette: [
    { id: 'a', name: 'cloud', hex: '#dde7ee' },
    { id: 'b', name: 'moss', hex: '#4a6b2c' },
    { id: 'c', name: 'Cloud too', hex: '#DDE7EE' },
  ],
  strings: ['a', 'b', 'b', 'b', 'b', 'c'],
  rows: ['f f f', 'fb -'],
};
const BOARD = readBoard(FILE);

beforeAll(async () => {
  stubPage();
  await loadTexts('table');
});
afterAll(async () => {
  await speak('en');
  vi.unstubAllGlobals();
});

/** Sentences of a view, knot by knot, in the order in which it is tied. */
function saidIn(view: View, board: Board = BOARD): readonly string[] {
  const worked = view === 'mirror' ? mirrorBoard(board) : board;
  const { steps } = workOrder(worked, { method: 'rows', firstHalf: firstHalfIn(view) });
  return groupSteps(steps, 'knot', worked.pattern.colours.length).map((group) =>
    sayGroup(worked, group, steps.slice(group.from, group.to), sightOf(view)),
  );
}

describe('views of the same work', () => {
  it('[N72] begun from the right the same knots are tied from the other end, and strings are counted from there', () => {
    expect(saidIn('same')[0]).toBe(
      'Row 1: forward knot, the 1st string from the left (cloud) over the 2nd (moss).',
    );
    expect(saidIn('from-right')[0]).toBe(
      'Row 1: forward knot, the 2nd string from the right (moss) over the 1st (Cloud too).',
    );
    const knots = (view: View) =>
      saidIn(view)
        .map((one) => /: ([\w-]+ knot)/.exec(one)![1])
        .sort();
    expect(knots('from-right')).toEqual(knots('same'));
  });

  it('[N72] step n of the mirror image is step n of the board, with the other hand and counted from the other end', () => {
    const other: Readonly<Record<string, string>> = {
      'forward knot': 'backward knot',
      'backward knot': 'forward knot',
      'forward-backward knot': 'backward-forward knot',
      'backward-forward knot': 'forward-backward knot',
    };
    const turned = saidIn('same').map((one) =>
      one
        .replace(/(forward|backward)(-\w+)? knot/, (name) => other[name]!)
        .replace('from the left', 'from the right'),
    );
    expect(saidIn('mirror')).toEqual(turned);
  });

  it('[N72] from opposite the sides and ways are the other ones, the knots and numbers those of the maker', () => {
    expect(saidIn('opposite')).toEqual(
      saidIn('same').map((one) => one.replace('from the left', 'from the right')),
    );
    const { steps } = workOrder(BOARD, { method: 'rows' });
    const [row] = groupSteps(steps, 'row', 6);
    const left = steps.slice(row!.from, row!.to);
    expect(sayGroup(BOARD, row!, left)).toBe('Row 1: 3 forward knots, from left to right.');
    expect(sayGroup(BOARD, row!, left, sightOf('opposite'))).toBe(
      'Row 1: 3 forward knots, from right to left.',
    );
  });

  it('[N72] in German the sides are right too', async () => {
    await speak('de');
    expect(VIEWS.map((view) => saidIn(view)[0])).toEqual([
      'Reihe 1: Vorwärtsknoten, der 1. Strang von links (cloud) über den 2. (moss).',
      'Reihe 1: Vorwärtsknoten, der 2. Strang von rechts (moss) über den 1. (Cloud too).',
      'Reihe 1: Rückwärtsknoten, der 1. Strang von rechts (cloud) über den 2. (moss).',
      'Reihe 1: Vorwärtsknoten, der 1. Strang von rechts (cloud) über den 2. (moss).',
    ]);
    await speak('en');
  });

  it('[N72] a place is counted from the end of the view, and the drawing has the same numbers, upright', () => {
    const seen = VIEWS.map((view) => placeSeen(1, 6, sightOf(view)));
    expect(seen).toEqual([
      { number: 2, from: 'left' },
      { number: 5, from: 'right' },
      { number: 5, from: 'right' },
      { number: 2, from: 'right' },
    ]);
    const { steps } = workOrder(BOARD, { method: 'rows' });
    const drawn = (view: View): string =>
      markupOf(
        tieDrawing({
          label: 'Band',
          hexes: BOARD.pattern.colours.map(() => '#123456'),
          knots: [],
          open: [steps[0]!],
          hanging: [0, 1, 2, 3, 4, 5],
          numberOf: (place) => placeSeen(place, 6, sightOf(view)).number,
          isTurned: sightOf(view).isTurned,
        }),
      );
    const numbers = (text: string) =>
      [...text.matchAll(/>(\d+)<\/text>/g)].map(([, number]) => Number(number));
    expect(numbers(drawn('same'))).toEqual([1, 2]);
    expect(numbers(drawn('from-right'))).toEqual([6, 5]);
    expect(drawn('same')).not.toContain('rotate(180');
    // The band once, and each number back.
    expect(drawn('opposite').split('rotate(180').length - 1).toBe(3);
  });

  it('[N102] places, knots of a row, and the sides of a cord are as they are seen', () => {
    const counted = VIEWS.map((view) => placesCounted(4, sightOf(view)));
    expect(counted).toEqual([
      [0, 1, 2, 3],
      [3, 2, 1, 0],
      [3, 2, 1, 0],
      [0, 1, 2, 3],
    ]);
    // The second place counted is the one with the number 2.
    for (const view of VIEWS)
      expect(
        placesCounted(4, sightOf(view)).map((place) => placeSeen(place, 4, sightOf(view)).number),
      ).toEqual([1, 2, 3, 4]);
    const { pattern } = BOARD;
    const knots = (row: number, view: View) =>
      [0, 1].map((k) => knotSeen({ row, k }, pattern, sightOf(view)));
    expect([knots(0, 'same'), knots(0, 'mirror'), knots(0, 'opposite')]).toEqual([
      [1, 2],
      [3, 2],
      [1, 2],
    ]);
    expect(knots(1, 'from-right')).toEqual([2, 1]);
    const cord = { right: 3, longer: 'left', cutMm: 100, foldAtMm: 70 } as const;
    expect(cordSeen(cord, sightOf('from-right'))).toBe(cord);
    expect(cordSeen(cord, sightOf('opposite'))).toEqual({ ...cord, longer: 'right', foldAtMm: 30 });
    const single = { right: null, longer: null, cutMm: 100, foldAtMm: 20 };
    expect(cordSeen(single, sightOf('opposite'))).toBe(single);
  });

  it('[N73] says how many knots of the mirror image show another colour; alike colours count as one', () => {
    expect(mirrorDifference(BOARD)).toEqual({ differ: 3, knots: 4 });
    const even = readBoard({ ...FILE, rows: ['f f b', '- -'] });
    // The middle knot shows one colour whichever way it goes.
    expect(mirrorDifference(even)).toEqual({ differ: 0, knots: 3 });
    const odd = readBoard({ ...FILE, strings: ['a', 'b', 'a'], rows: ['f'] });
    expect(mirrorDifference(odd)).toEqual({ differ: 1, knots: 1 });
    const lopsided = readBoard(LOPSIDED);
    expect(mirrorDifference(mirrorBoard(lopsided))).toEqual(mirrorDifference(lopsided));
    expect(mirrorBoard(mirrorBoard(lopsided))).toEqual(lopsided);
  });

  it('[N71] into a mirror image and back the cut cords stay cut; one that hangs or is tied stays what it is', () => {
    const keychain = {
      view: 'same',
      firstHalf: 'left',
      cut: [0, 2],
      mounted: 0,
      tied: new Set(),
    } as unknown as Keychain;
    const cords = cordsOf({
      folds: [
        { left: 0, right: 3, colour: 'a', cutMm: 10, foldAtMm: 4, turn: 1, needMm: [4, 6] },
        { left: 1, right: 2, colour: 'b', cutMm: 10, foldAtMm: 5, turn: 2, needMm: [5, 5] },
      ],
      singles: [],
    } as unknown as Parameters<typeof cordsOf>[0]);
    const change = changeView(keychain, BOARD, cords, 'mirror');
    expect(change?.patch).toEqual({ view: 'mirror', firstHalf: 'right', cut: [2], declined: '' });
    expect(change?.board).toEqual(mirrorBoard(BOARD));
    expect(changeView(keychain, BOARD, null, 'mirror')).toBeNull();
    expect(changeView(keychain, BOARD, null, 'opposite')).toEqual({
      patch: { view: 'opposite', firstHalf: 'left' },
      board: null,
    });
    for (const begun of [{ mounted: 1 }, { tied: new Set(['band 1 0 0']) }]) {
      const one = { ...keychain, ...begun };
      expect(changeView(one, BOARD, cords, 'mirror')).toBeNull();
      expect(changeView(one, BOARD, cords, 'from-right')).not.toBeNull();
    }
  });
});
