/** A copy that comes in pieces, one after the other, each asked for. */
import type { CopyPiece } from '../../../engine/document/index.ts';

export class CopyPieces {
  readonly #bytes: Uint8Array;
  #received = 0;

  /** @param total bytes of all pieces */
  constructor(total: number) {
    this.#bytes = Buffer.allocUnsafe(total);
  }

  /** Where the next one begins. */
  get wanted(): number {
    return this.#received;
  }

  /** The whole, once it is there. */
  get whole(): Uint8Array | null {
    return this.#received === this.#bytes.length ? this.#bytes : null;
  }

  /** @returns whether it is the one that was asked for */
  add({ total, offset, bytes }: CopyPiece): boolean {
    const fits = total === this.#bytes.length && offset === this.#received && bytes.length > 0;
    if (!fits || offset + bytes.length > total) return false;
    this.#bytes.set(bytes, offset);
    this.#received += bytes.length;
    return true;
  }
}
