/** What the SQLite store and its worker thread say to each other. What is asked of the worker follows from {@link Store}. */
import type { RecordChange } from './sqlite-records.ts';
import type { DocumentAddress, RowOptions, RowRefusal, Store, StoreFailure } from './store.ts';

/** A row to append: bytes from `from` to `to` in the message's `bytes`. */
export interface PackedRow extends RowOptions {
  readonly address: DocumentAddress;
  readonly from: number;
  readonly to: number;
}

/** What is asked one by one; the others go with the next commit, and `close` ends the thread. */
export type AskedName = Exclude<keyof Store, 'append' | 'putRecord' | 'removeRecord' | 'close'>;

/** What the promise of such a method fulfils with. */
export type Answered<Name extends AskedName> = Awaited<ReturnType<Store[Name]>>;

/** The same methods as the thread has them: answered at once. */
export type AskedStore = {
  readonly [Name in AskedName]: (...args: Parameters<Store[Name]>) => Answered<Name>;
};

/** A method and what it is called with. */
export interface StoreCall<Name extends AskedName = AskedName> {
  readonly name: Name;
  readonly args: Parameters<Store[Name]>;
}

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
  | { readonly kind: 'answer'; readonly id: number; readonly value: Answered<AskedName> }
  | { readonly kind: 'call-failed'; readonly id: number; readonly failure: Failure }
  | { readonly kind: 'closed' };
