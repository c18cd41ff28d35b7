/** What somebody who comes to a board has when the server has answered them. */
import { expect, test } from 'vitest';
import { until } from '../../support/until.ts';
import { LinePage, ROWS } from '../line-page.ts';
import { makeBoard, startTestServer } from '../test-server.ts';

test('[V347] whoever is told that they have the document has what was edited last', async () => {
  const server = await startTestServer();
  const board = await makeBoard(server);
  const maker = new LinePage(server.ws, board);
  await until('the maker has the board', () => maker.line.saved === 'saved');
  const counts = new Set<number>();
  for (let edits = 0; edits < ROWS; edits += 1) {
    const comer = new LinePage(server.ws, board);
    comer.wire.isOpen = false;
    let parts = 0;
    comer.doc.on('update', () => {
      parts += 1;
    });
    while (!comer.line.isConnected) {
      comer.wire.step('up');
      await until('something comes', () => [...comer.wire.sockets].some(({ down }) => down.length > 0));
      comer.wire.step('down');
    }
    counts.add(parts);
    expect(comer.design.snapshot.board, `after ${edits} edits`).toEqual(maker.design.snapshot.board);
    comer.end();
    maker.edit(() => 0.5);
    await until('it is saved', () => maker.line.saved === 'saved');
  }
  // In one part, and in two.
  expect([...counts].sort()).toEqual([1, 2]);
  maker.end();
  await server.close();
});
