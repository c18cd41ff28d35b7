/** What lies over the board. */
import { expect, it } from 'vitest';
import { renderSheet, type Sheet } from '../../../web/board/render-sheet.ts';

it.each<[Sheet, string, readonly unknown[]]>([
  ['shortcuts', 'lb-shortcut-sheet', []],
  ['menu', 'lb-board-menu', ['host', { px: 10, py: 20 }]],
])('the sheet of %s is told what it needs, and closed by itself', (sheet, tag, needs) => {
  const close = (): void => {};
  const { strings, values } = renderSheet(sheet, 'host' as never, { px: 10, py: 20 }, close);
  expect(strings.join('')).toContain(`<${tag} `);
  expect(values).toEqual([...needs, close]);
  expect(strings[values.indexOf(close)]).toMatch(/@lb-close=$/);
});
