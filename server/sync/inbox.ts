/** Frames of one socket that are to be read, in order. While something in one of them is not decided yet, nothing behind it is read. */
import * as decoding from 'lib0/decoding';

/** No part of the protocol takes less room than this in a frame. */
const MAX_MESSAGES_PER_FRAME = 100;

interface Frame {
  readonly decoder: decoding.Decoder;
  messages: number;
}

export class Inbox {
  readonly #frames: Frame[] = [];
  #isHeld = false;

  add(bytes: Buffer): void {
    const decoder = decoding.createDecoder(new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.length));
    this.#frames.push({ decoder, messages: 0 });
  }

  get isHeld(): boolean {
    return this.#isHeld;
  }

  /** Gives out nothing until something is done, and has the client send nothing meanwhile. */
  async holdWhile(socket: { pause(): void; resume(): void }, act: () => Promise<void>): Promise<void> {
    this.#isHeld = true;
    socket.pause();
    try {
      await act();
    } finally {
      // It could not hear the answer to a close either.
      socket.resume();
      this.#isHeld = false;
    }
  }

  /**
   * Reads the next message; null when there is none now.
   * @throws as `read` does, and when a frame holds too many
   */
  next<T>(read: (decoder: decoding.Decoder) => T): T | null {
    const frame = this.#isHeld ? undefined : this.#frames[0];
    if (frame === undefined) return null;
    frame.messages += 1;
    if (frame.messages > MAX_MESSAGES_PER_FRAME) throw new RangeError('too many messages in one frame');
    const message = read(frame.decoder);
    if (!decoding.hasContent(frame.decoder)) this.#frames.shift();
    return message;
  }
}
