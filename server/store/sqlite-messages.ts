/** What the SQLite store and its worker thread say to each other. */
import type { RecordChange } from './sqlite-records.ts';
import type {
  BoardRecord,
  CheckReport,
  DocumentAddress,
  EndedGeneration,
  FirstRecord,
  KeptRecord,
  ListedRecord,
  LoadOptions,
  Renewal,
  RowOptions,
  RowRefusal,
  StoredRow,
  StoreFailure,
} from './store.ts';

/** A row to append: bytes from `from` to `to` in the message's `bytes`. */
export interface PackedRow extends RowOptions {
  readonly address: DocumentAddress;
  readonly from: number;
  readonly to: number;
}

export type StoreCall =
  | {
      readonly kind: 'addBoard';
      readonly board: BoardRecord;
      readonly documents: readonly { part: DocumentAddress['part']; bytes: Uint8Array }[];
      readonly records: readonly FirstRecord[];
    }
  | { readonly kind: 'board'; readonly board: string }
  | { readonly kind: 'boardsOfKind'; readonly boardKind: BoardRecord['kind'] }
  | { readonly kind: 'boardsWithRecord'; readonly recordKind: string }
  | { readonly kind: 'removeBoard'; readonly board: string }
  | {
      readonly kind: 'load';
      readonly address: DocumentAddress;
      readonly options: LoadOptions | undefined;
    }
  | {
      readonly kind: 'compact';
      readonly address: DocumentAddress;
      readonly seqs: readonly number[];
      readonly snapshot: Uint8Array;
      readonly generation: number | undefined;
    }
  | { readonly kind: 'renew'; readonly address: DocumentAddress; readonly renewal: Renewal }
  | { readonly kind: 'last-state'; readonly address: DocumentAddress; readonly generation: number }
  | { readonly kind: 'ended-generations'; readonly address: DocumentAddress }
  | { readonly kind: 'records'; readonly board: string; readonly recordKind: string | null }
  | { readonly kind: 'record'; readonly board: string; readonly recordKind: string; readonly id: string }
  | { readonly kind: 'check' }
  | { readonly kind: 'ping' };

export type ToWorker =
  | {
      readonly kind: 'append';
      readonly rows: readonly PackedRow[];
      readonly bytes: Uint8Array;
      readonly changes: readonly RecordChange[];
    }
  | { readonly kind: 'call'; readonly id: number; readonly call: StoreCall }
  | { readonly kind: 'close' };

export interface Failure {
  readonly kind: StoreFailure;
  readonly message: string;
}

export type FromWorker =
  | {
      readonly kind: 'appended';
      /** In the order of the rows. */
      readonly seqs: readonly (number | RowRefusal)[];
      /** In the order of the changes; null = there is no such board. */
      readonly changed: readonly (boolean | null)[];
      readonly commitMs: number;
    }
  | { readonly kind: 'append-failed'; readonly failure: Failure }
  | {
      readonly kind: 'answer';
      readonly id: number;
      readonly value:
        | Uint8Array
        | boolean
        | BoardRecord
        | null
        | readonly BoardRecord[]
        | readonly StoredRow[]
        | readonly EndedGeneration[]
        | KeptRecord
        | readonly ListedRecord[]
        | number
        | CheckReport;
    }
  | { readonly kind: 'call-failed'; readonly id: number; readonly failure: Failure }
  | { readonly kind: 'closed' };
