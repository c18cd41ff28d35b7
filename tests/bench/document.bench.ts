/** What the design document costs: bytes, loading, an edit, and how much compaction gives back. */
import * as Y from 'yjs';
import { compactDesign, Design, readDesign, writeBoard } from '../../engine/document/index.ts';
import type { KnotCode } from '../../engine/index.ts';
import { numberedDoc } from '../support/open-design.ts';
import { countingIds, sampleBoard } from '../support/sample-board.ts';
import { seededRandom } from '../support/seeded-random.ts';
import type { BenchRow } from './bench-row.ts';
import { measure, measureInTurn, timingRow } from './measure.ts';

const OVERWRITES = 50_000;
const MAKERS = 4;

/** A 60 x 400 board on which several makers have overwritten knots at random, one transaction each. */
function wornDoc(): Y.Doc {
  const random = seededRandom(1);
  const doc = numberedDoc(1);
  writeBoard(doc, sampleBoard(60, 400), countingIds('w'));
  const makers = Array.from({ length: MAKERS }, (_, m) => {
    const copy = numberedDoc(m + 2);
    Y.applyUpdate(copy, Y.encodeStateAsUpdate(doc));
    return new Design(copy, { makerId: `m${m}`, newId: countingIds(`m${m}`), captureMs: 0 });
  });
  for (const { doc: own } of makers)
    own.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin === 'relay') return;
      for (const other of makers) if (other.doc !== own) Y.applyUpdate(other.doc, update, 'relay');
    });
  for (let i = 0; i < OVERWRITES; i++) {
    const row = random.below(400);
    const k = random.below(29);
    makers[i % MAKERS]!.run({ kind: 'set-knots', knots: [{ row, k, knot: random.below(5) as KnotCode }] });
  }
  const joined = new Y.Doc();
  Y.applyUpdate(joined, Y.encodeStateAsUpdate(makers[0]!.doc));
  for (const maker of makers) maker.dispose();
  return joined;
}

function load(update: Uint8Array): unknown {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, update);
  return readDesign(doc);
}

function bytesRow(name: string, size: number, bytes: number, note: string): BenchRow {
  return { name, size, value: bytes, min: bytes, median: bytes, unit: 'B', note };
}

/** Bytes and times of documents of growing size, of one edit in 60 x 400, and of a worn document before and after compaction. */
export function benchDocument(): readonly BenchRow[] {
  const rows: BenchRow[] = [];
  for (const [strings, count] of [
    [12, 40],
    [60, 400],
    [100, 1_000],
    [200, 20_000],
  ] as const) {
    const doc = new Y.Doc();
    const board = sampleBoard(strings, count);
    const knots = count * (strings >> 1);
    writeBoard(doc, board, countingIds('w'));
    const update = Y.encodeStateAsUpdate(doc);
    const note = `${strings} strings x ${count} rows; size = knots`;
    rows.push(bytesRow('document, new', knots, update.length, note));
    rows.push(
      timingRow(
        'document, load and read',
        knots,
        measure(() => load(update), { repeats: 5 }),
        { note },
      ),
    );
  }

  const doc = new Y.Doc();
  writeBoard(doc, sampleBoard(60, 400), countingIds('w'));
  const design = new Design(doc, { makerId: 'm', newId: countingIds('m'), captureMs: 0 });
  let turn = 0;
  const edit = (): unknown => {
    turn++;
    design.run({
      kind: 'set-knots',
      knots: [{ row: turn % 400, k: turn % 29, knot: ((turn % 4) + 1) as KnotCode }],
    });
    return design.snapshot;
  };
  const [whole, single] = measureInTurn([() => readDesign(doc), edit], { repeats: 201, warmUp: 20 });
  rows.push(
    timingRow('document, one knot tied and read, 60 x 400', 12_000, single!, {
      ratioTo: { name: 'reading the whole document', ratio: single!.medianMs / whole!.medianMs, bound: 0.5 },
    }),
  );

  const worn = wornDoc();
  const wornUpdate = Y.encodeStateAsUpdate(worn);
  const compacted = compactDesign(worn)!;
  const compactUpdate = Y.encodeStateAsUpdate(compacted);
  const note = `60 x 400, ${OVERWRITES} overwrites by ${MAKERS} makers`;
  rows.push(bytesRow('document, worn', OVERWRITES, wornUpdate.length, note));
  rows.push(bytesRow('document, compacted', OVERWRITES, compactUpdate.length, note));
  const [slow, fast, compacting] = measureInTurn(
    [() => load(wornUpdate), () => load(compactUpdate), () => compactDesign(worn)],
    { repeats: 7 },
  );
  rows.push(timingRow('document, load and read worn', OVERWRITES, slow!, { note }));
  rows.push(
    timingRow('document, load and read compacted', OVERWRITES, fast!, {
      ratioTo: { name: 'the worn one', ratio: fast!.medianMs / slow!.medianMs, bound: 0.5 },
      note,
    }),
  );
  rows.push(timingRow('document, compacting', OVERWRITES, compacting!, { note }));
  return rows;
}
