/** What is made of a copy of an ended generation, whatever comes as one and whatever was kept of it. */
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readDesign } from '../../../../engine/document/index.ts';
import { DEFAULT_SYNC_LIMITS } from '../../../../server/sync/limits.ts';
import { packLastState } from '../../../../server/sync/renewal/beginning.ts';
import {
  BRING,
  type BringInput,
  type BringOutput,
  JUDGE_LOOSE,
} from '../../../../server/sync/renewal/copy-jobs.ts';
import { COSTLY_UPDATES } from '../../../support/costly-updates.ts';
import { craftUpdate, sharedType, waitingInACircle } from '../../../support/crafted-update.ts';
import {
  beyond,
  copyOf,
  ENDED,
  lastDoc,
  NAME,
  OTHER,
  presentOf,
  stateOf,
  untie,
} from '../../ended-design.ts';
import { runAll } from '../../worn-board.ts';

function bring(last: Y.Doc, copy: Uint8Array, more: Partial<BringInput> = {}): BringOutput {
  const { steps } = DEFAULT_SYNC_LIMITS;
  const input = {
    lastState: packLastState(stateOf(last)),
    identity: ENDED,
    copy,
    present: [presentOf(last)],
    steps,
  };
  return BRING.run({ ...input, ...more }) as BringOutput;
}

/** What the board is once this was added to the present document. */
function boardWith(last: Y.Doc, output: BringOutput): unknown {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, presentOf(last));
  if (output.kind === 'brought' && output.update !== null) Y.applyUpdate(doc, output.update);
  return readDesign(doc).board;
}

const alien = craftUpdate([{ client: 9, structs: [{ parent: 'knots', key: 'a', content: sharedType(1) }] }]);
const costly = COSTLY_UPDATES['one key written over and over as if it were new']!(1_500).update;

describe('a copy of a generation that is kept', () => {
  it('[V100] of which nothing but deletions are unsaved brings these, and nothing where they are saved', () => {
    const last = lastDoc();
    const copy = copyOf(last, untie);
    const unsaved = beyond(copy, last);
    // The decoder finds no struct in it.
    expect(Y.decodeUpdate(unsaved).structs).toEqual([]);
    const output = bring(last, unsaved);
    expect(output).toMatchObject({ kind: 'brought', refused: [], leftOver: null });
    expect(boardWith(last, output)).toEqual(readDesign(copy).board);
    const { lastState } = output as BringOutput & { kind: 'brought' };
    expect(boardAt(lastState)).toEqual(readDesign(copy).board);
    const again = BRING.run({
      lastState,
      identity: ENDED,
      copy: unsaved,
      present: [],
      steps: DEFAULT_SYNC_LIMITS.steps,
    }) as BringOutput;
    expect(again).toMatchObject({ kind: 'brought', update: null, commands: 0, lastState });
  });

  it('[V100] that deletes more than was deleted before is compared, not passed over', () => {
    // Further on, and before what was.
    for (const [was, is] of [
      [1, 1],
      [4, 1],
    ] as const) {
      const takeOut = (from: number) => (doc: Y.Doc) =>
        runAll(doc, [{ kind: 'delete-row-pairs', from, count: 1 }]);
      const last = copyOf(lastDoc(), takeOut(was));
      const copy = copyOf(last, takeOut(is));
      const output = bring(last, beyond(copy, last));
      expect(output.kind === 'brought' && output.update).toBeInstanceOf(Uint8Array);
      expect(boardWith(last, output)).toEqual(readDesign(copy).board);
    }
  });

  it('[V40] [V250] that is not what may be taken from anybody is refused, and why', () => {
    const last = lastDoc();
    for (const [copy, message, isTooMuch] of [
      [Uint8Array.of(1, 1, 1, 255), 'does not decode', false],
      [alien, 'ContentType in knots', false],
      [waitingInACircle(), 'in a circle', false],
      [costly, 'too many steps', true],
    ] as const)
      expect(bring(last, copy, { steps: 1_000 })).toEqual({
        kind: 'refused',
        message: expect.stringContaining(message),
        isTooMuch,
      });
  });

  it('[V352] that builds on what its generation does not hold, or is of another, is no copy of it', () => {
    const last = lastDoc();
    const copy = copyOf(last, (doc) => runAll(doc, [{ kind: 'set-title', title: 'away' }]));
    const before = Y.encodeStateVector(copy);
    runAll(copy, [{ kind: 'set-title', title: 'far away' }]);
    const lastEdit = Y.encodeStateAsUpdate(copy, before);
    expect(bring(last, lastEdit)).toEqual({ kind: 'misfit', message: expect.stringContaining('missing') });
    expect(bring(last, stateOf(lastDoc(OTHER)))).toEqual({
      kind: 'misfit',
      message: 'it names another generation',
    });
  });

  it('[V253] is brought onto nothing where the kept state is damaged, or is another', () => {
    const last = lastDoc();
    const copy = stateOf(copyOf(last, untie));
    const part = beyond(copyOf(last, untie), last);
    for (const [kept, message] of [
      [stateOf(lastDoc(OTHER)), 'it is another generation'],
      [part, 'it is unmet'],
    ] as const)
      expect(bring(last, copy, { lastState: deflateRawSync(kept) })).toEqual({ kind: 'damaged', message });
  });
});

/** What a packed state shows. */
function boardAt(packed: Uint8Array): unknown {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, inflateRawSync(packed));
  return readDesign(doc).board;
}

describe('a copy of a generation that is not kept', () => {
  it('[V356] is kept whole where it is a document, whatever its generation; else it is refused, and why', () => {
    const judge = (copy: Uint8Array): unknown => JUDGE_LOOSE.run({ copy, name: NAME, steps: 1_000 });
    expect(judge(stateOf(lastDoc(OTHER)))).toBe(null);
    const last = lastDoc();
    for (const [copy, message, isTooMuch] of [
      [Uint8Array.of(1, 1, 1, 255), 'does not decode', false],
      [alien, 'ContentType in knots', false],
      [beyond(copyOf(last, untie), last), 'missing', false],
      [costly, 'too many steps', true],
    ] as const)
      expect(judge(copy)).toEqual({ message: expect.stringContaining(message), isTooMuch });
  });
});
