import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readDesign, writeBoard } from '../../../engine/document/index.ts';
import type { Board } from '../../../engine/index.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';

describe('a board written into a document', () => {
  const written = (board: Board, doc = new Y.Doc()): Board => {
    writeBoard(doc, board, countingIds('w'));
    return readDesign(doc).board;
  };

  it('reads as it was, whose colourway it is and of how many pieces included', () => {
    const sample = sampleBoard();
    const [colourway] = sample.colourways;
    const ada = { ...colourway!, maker: { id: 'p', name: 'Ada' }, pieces: 4 };
    const board: Board = { ...sample, colourways: [ada, { ...colourway!, id: 'v' }] };
    expect(written(board)).toEqual(board);
  });

  it('says nothing of a field that is there without a value', () => {
    const piece = { ...sampleBoard().piece, notes: undefined } as unknown as Board['piece'];
    const doc = new Y.Doc();
    expect(written({ ...sampleBoard(), piece }, doc)).toEqual(sampleBoard());
    expect([...doc.getMap('meta').keys()].filter((key) => key.endsWith('notes'))).toEqual([]);
  });

  it('that is not valid is refused before anything is written', () => {
    const doc = new Y.Doc();
    expect(() => written({ ...sampleBoard(), palette: [] }, doc)).toThrow(RangeError);
    expect(Y.encodeStateVector(doc)).toEqual(Y.encodeStateVector(new Y.Doc()));
  });
});
