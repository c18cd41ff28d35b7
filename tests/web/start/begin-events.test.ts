import { expect, it } from 'vitest';
import { MakeBoardsEvent } from '../../../web/start/begin-events.ts';
import { sampleBoard } from '../../support/sample-board.ts';

it('boards that are wanted are told past every element above, and are no matching set unless it is said', () => {
  const boards = [sampleBoard()];
  const event = new MakeBoardsEvent(boards);
  expect([event.type, event.boards, event.isSet]).toEqual(['lb-make-boards', boards, false]);
  expect([event.bubbles, event.composed]).toEqual([true, true]);
  expect(new MakeBoardsEvent(boards, true).isSet).toBe(true);
});
