/**
 * Answers of a copy to the server's questions that are larger than one message may be: they go in pieces, the next one when the
 * server asks for it.
 */
import { encodeCopyPiece, LIMITS } from '../../engine/document/index.ts';

export class CopySender {
  readonly #send: (frame: Uint8Array) => void;
  readonly #messageBytes: number;
  #answer: Uint8Array | null = null;

  /** @param messageBytes how large a message may be */
  constructor(send: (frame: Uint8Array) => void, messageBytes: number) {
    this.#send = send;
    this.#messageBytes = messageBytes;
  }

  /** Begins to send an answer that is too large for a message. @returns whether it is */
  begin(answer: Uint8Array): boolean {
    // Kinds and lengths stand before it.
    const isLarge = answer.length + 16 > this.#messageBytes;
    this.#answer = isLarge ? answer : null;
    if (isLarge) this.#piece(0);
    return isLarge;
  }

  /** The server wants the piece that begins there. @returns whether it needs no more */
  wanted(offset: number): boolean {
    if (this.#answer === null) return false;
    if (offset < this.#answer.length) {
      this.#piece(offset);
      return false;
    }
    this.#answer = null;
    return true;
  }

  /** The socket is gone. */
  stop(): void {
    this.#answer = null;
  }

  #piece(offset: number): void {
    const answer = this.#answer!;
    const bytes = answer.subarray(offset, offset + Math.min(LIMITS.copyPieceBytes, this.#messageBytes / 2));
    this.#send(encodeCopyPiece({ total: answer.length, offset, bytes }));
  }
}
