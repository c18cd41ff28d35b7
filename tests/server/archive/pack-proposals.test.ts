/** Proposals as they stand in an archive, by what their branches hold. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readDesign, writeBoard } from '../../../engine/document/index.ts';
import { formatBoard } from '../../../engine/index.ts';
import { PROPOSED } from '../../../server/archive/archive-format.ts';
import { packProposals } from '../../../server/archive/pack-proposals.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';

const MADE = Date.UTC(2026, 2, 1);

const record = (id: string, more: object = {}) => ({
  board: 'a',
  kind: 'proposal',
  id,
  about: JSON.stringify({
    title: 'Longer tails',
    proposer: 'p',
    name: 'Rae',
    word: '',
    isPart: false,
    state: 'open',
    madeAt: MADE,
    handedInAt: null,
    closedAt: null,
    ...more,
  }),
  bytes: new Uint8Array(0),
});
function designOf(notes = ''): readonly Uint8Array[] {
  const doc = new Y.Doc();
  writeBoard(doc, { ...sampleBoard(), piece: { notes } }, countingIds('w'));
  return [Y.encodeStateAsUpdate(doc)];
}

describe('a proposal in an archive', () => {
  it('says what it proposes and when what was done with it, and is kept to be made again', () => {
    const handedInAt = MADE + 60_000;
    const branch = { record: record('one', { handedInAt }), design: designOf('tails'), talk: [] };
    const { records, text } = packProposals([branch]);
    expect(text).toMatchObject([
      {
        title: 'Longer tails',
        name: 'Rae',
        madeAt: '2026-03-01T00:00:00.000Z',
        handedInAt: '2026-03-01T00:01:00.000Z',
        closedAt: null,
        talk: [],
      },
    ]);
    expect(text[0]!.board).toMatchObject({ piece: { notes: 'tails' } });
    expect(records.map(({ kind, id, board }) => [kind, id, board])).toEqual([[PROPOSED.design, 'one', 'a']]);
    const again = new Y.Doc();
    Y.applyUpdate(again, records[0]!.bytes);
    expect(formatBoard(readDesign(again).board)).toEqual(text[0]!.board);
  });

  it('whose branch holds no board has none, and the next is told all the same', () => {
    const { records, text } = packProposals([
      { record: record('one'), design: [Y.encodeStateAsUpdate(new Y.Doc())], talk: [] },
      { record: record('two'), design: designOf(), talk: [] },
    ]);
    expect(text.map(({ board }) => board === null)).toEqual([true, false]);
    expect(records.map(({ id }) => id)).toEqual(['two']);
  });
});
