import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readDesign, writeBoard } from '../../../../engine/document/index.ts';
import { COMPACT } from '../../../../server/sync/renewal/compact-job.ts';
import { countingIds, sampleBoard } from '../../../support/sample-board.ts';

const identity = { generation: 3, drawn: 'drawn' } as unknown as Parameters<
  typeof COMPACT.run
>[0]['identity'];

/** The same title written over and over, as one update each. */
function updates(times: number): readonly Uint8Array[] {
  const doc = new Y.Doc();
  writeBoard(doc, sampleBoard(), countingIds('w'));
  for (let i = 0; i < times; i++)
    writeBoard(doc, { ...sampleBoard(), title: `title ${i}` }, countingIds(`w${i}-`));
  return [Y.encodeStateAsUpdate(doc)];
}
const run = (of: readonly Uint8Array[], renewBytes: number) =>
  COMPACT.run({ updates: of, identity, renewBytes });

describe('whether a document is worn', () => {
  it('it is where most of it is its past; then it is told what would begin the next generation', async () => {
    const found = (await run(updates(40), 100))!;
    expect(found.bytes).toBeGreaterThan(2 * found.freshBytes);
    expect(found.begun).toMatchObject({ generation: 3, drawn: 'drawn' });
    const next = new Y.Doc();
    Y.applyUpdate(next, found.begun!.snapshot);
    expect(readDesign(next).board.title).toBe('title 39');
  });

  it('it is not where it is small, or mostly its present', async () => {
    expect(await run(updates(40), 10_000_000)).toMatchObject({ begun: null });
    expect(await run(updates(0), 100)).toMatchObject({ begun: null });
  });

  it('one that holds no board has no next generation, and one that cannot be read is a fault', async () => {
    expect(await run([Y.encodeStateAsUpdate(new Y.Doc())], 0)).toBeNull();
    expect(() => COMPACT.run({ updates: [new Uint8Array([1, 2, 3])], identity, renewBytes: 0 })).toThrow();
  });
});
