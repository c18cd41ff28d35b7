import { type BoardPart, roomName } from '../../engine/document/index.ts';
import { MemoryStore } from '../../server/store/memory-store.ts';

/** A store that keeps a list of all that was ever written to each generation of each document. */
export class RecordingStore extends MemoryStore {
  /** By `<board>/<part>~<generation>`. */
  readonly written = new Map<string, { readonly part: BoardPart; readonly updates: Uint8Array[] }>();

  #note(board: string, part: BoardPart, generation: number, bytes: Uint8Array): void {
    const key = `${roomName(board, part)}~${generation}`;
    const entry = this.written.get(key) ?? { part, updates: [] };
    this.written.set(key, entry);
    entry.updates.push(bytes.slice());
  }

  override addBoard: MemoryStore['addBoard'] = (board, documents, records) => {
    for (const { part, bytes } of documents) this.#note(board.id, part, 1, bytes);
    return super.addBoard(board, documents, records);
  };

  override append: MemoryStore['append'] = (address, bytes, options) => {
    this.#note(address.board, address.part, options?.generation ?? 1, bytes);
    return super.append(address, bytes, options);
  };

  override compact: MemoryStore['compact'] = (address, seqs, snapshot, generation) => {
    this.#note(address.board, address.part, generation ?? 1, snapshot);
    return super.compact(address, seqs, snapshot, generation);
  };

  override renew: MemoryStore['renew'] = (address, renewal) => {
    this.#note(address.board, address.part, renewal.generation + 1, renewal.snapshot);
    return super.renew(address, renewal);
  };
}
