/** Where a notice lies. */
import { expect, it } from 'vitest';
import { type Box, leastInTheWay } from '../../../web/notices/least-in-the-way.ts';

const box = (x: number, y: number, width: number, height: number): Box => ({ x, y, width, height });
/** A wide window: the board at the left, panels at the right. */
const WIDE = { end: box(996, 788, 432, 100), start: box(12, 788, 432, 100), top: box(996, 12, 432, 100) };
const BOARD = box(0, 60, 940, 840);
const PANELS = box(940, 60, 500, 840);
/** A phone: all corners are as wide as the window. */
const PHONE = { end: box(12, 732, 366, 100), start: box(12, 732, 366, 100), top: box(12, 12, 366, 100) };

it('[W985] over the panels while the board is worked on, over the board while a panel is', () => {
  expect(leastInTheWay(WIDE, { region: BOARD, place: { x: 300, y: 800 } })).toBe('end');
  expect(leastInTheWay(WIDE, { region: PANELS, place: { x: 1_200, y: 300 } })).toBe('start');
  expect(leastInTheWay(WIDE, { region: null, place: null })).toBe('end');
});

it('[W985] never near where somebody works, while there is another corner', () => {
  expect(leastInTheWay(WIDE, { region: BOARD, place: { x: 960, y: 800 } })).not.toBe('end');
  expect(leastInTheWay(PHONE, { region: box(0, 100, 390, 744), place: { x: 200, y: 700 } })).toBe('top');
  expect(leastInTheWay(PHONE, { region: box(0, 0, 390, 844), place: { x: 200, y: 60 } })).toBe('end');
});

it('[W985] stays where it is, so that it can be pressed, until the work comes near', () => {
  expect(leastInTheWay(WIDE, { region: PANELS, place: { x: 1_200, y: 300 } }, 'end')).toBe('end');
  expect(leastInTheWay(WIDE, { region: PANELS, place: { x: 1_200, y: 760 } }, 'end')).toBe('start');
});
