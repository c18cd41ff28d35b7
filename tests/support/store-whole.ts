/** Everything that a store holds beside the documents, as plain JSON; the documents are read through a server. */
import { createHash } from 'node:crypto';
import type { Store } from '../../server/store/index.ts';

const KINDS = ['board', 'demo', 'branch'] as const;
/** More generations than any board of ours has. */
const GENERATIONS = 5;

/** A record as the store keeps it. */
export interface RecordWhole {
  readonly board: string;
  readonly kind: string;
  readonly id: string;
  readonly about: string;
  readonly sha256: string;
}

export interface StoreWhole {
  readonly boards: readonly { readonly id: string; readonly kind: string; readonly createdAt: number }[];
  readonly records: readonly RecordWhole[];
  /** Last states of ended generations of designs. */
  readonly formers: readonly {
    readonly board: string;
    readonly generation: number;
    readonly sha256: string;
  }[];
}

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** @throws Error when the store finds itself damaged */
export async function readStoreWhole(store: Store): Promise<StoreWhole> {
  const { faults } = await store.check();
  if (faults.length > 0) throw new Error(`the store is damaged: ${faults.join('; ')}`);
  const boards = (await Promise.all(KINDS.map((kind) => store.boardsOfKind(kind)))).flat();
  const records: RecordWhole[] = [];
  const formers: StoreWhole['formers'][number][] = [];
  for (const { id: board } of boards) {
    for (const { kind, id } of await store.records(board, null)) {
      const record = await store.record(board, kind, id);
      if (record === null) throw new Error(`${board} lists ${kind} ${id} and does not have it`);
      records.push({ board, kind, id, about: record.about, sha256: sha256(record.bytes) });
    }
    for (let generation = 0; generation < GENERATIONS; generation += 1) {
      const bytes = await store.lastState({ board, part: 'design' }, generation);
      if (bytes !== null) formers.push({ board, generation, sha256: sha256(bytes) });
    }
  }
  return { boards: boards.map(({ id, kind, createdAt }) => ({ id, kind, createdAt })), records, formers };
}
