/**
 * A line to a server in the same process, without sockets below: what either side writes is there at once, and whether the client takes
 * what comes is for the test to say. Frames as in RFC 6455, 5.2.
 */
import { Duplex } from 'node:stream';

export const TEXT = 1;
export const BINARY = 2;
export const CLOSE = 8;
export const PING = 9;
export const PONG = 10;

export interface Frame {
  readonly opcode: number;
  readonly payload: Buffer;
}

/** A frame as a client sends it; with a mask of noughts, so that the payload can be read as it is. */
function clientFrame(opcode: number, payload: Uint8Array): Buffer {
  const { length } = payload;
  const size = length < 126 ? 0 : length < 65_536 ? 2 : 8;
  const head = Buffer.alloc(2 + size + 4);
  head[0] = 0x80 | opcode;
  head[1] = 0x80 | (size === 0 ? length : size === 2 ? 126 : 127);
  if (size === 2) head.writeUInt16BE(length, 2);
  if (size === 8) head.writeBigUInt64BE(BigInt(length), 2);
  return Buffer.concat([head, payload]);
}

/** Takes the first whole frame of what a server wrote. @returns it, and the bytes behind it; null when it is not whole */
export function takeFrame(bytes: Buffer): { readonly frame: Frame; readonly rest: Buffer } | null {
  if (bytes.length < 2) return null;
  const short = bytes[1]! & 0x7f;
  const at = short === 126 ? 4 : short === 127 ? 10 : 2;
  if (bytes.length < at) return null;
  const length =
    short === 126 ? bytes.readUInt16BE(2) : short === 127 ? Number(bytes.readBigUInt64BE(2)) : short;
  if (bytes.length < at + length) return null;
  const payload = bytes.subarray(at, at + length);
  return { frame: { opcode: bytes[0]! & 0x0f, payload }, rest: bytes.subarray(at + length) };
}

/** The server's end; the methods are the client's. */
export class WireLine extends Duplex {
  /** Frames that have come and are not looked at yet. */
  readonly frames: Frame[] = [];
  readonly #onBytes: (bytes: Buffer) => void;
  readonly #onFrame: (frame: Frame) => void;
  #bytes: Buffer = Buffer.alloc(0);
  #isUpgraded = false;
  #isStalled = false;
  #goOn: (() => void) | null = null;

  /** @param onBytes hears of all that the server writes, as it is taken, and `onFrame` of what that makes up */
  constructor(onBytes: (bytes: Buffer) => void, onFrame: (frame: Frame) => void) {
    super({ allowHalfOpen: true, writableHighWaterMark: 4096 });
    this.#onBytes = onBytes;
    this.#onFrame = onFrame;
  }

  /** Whether the server has answered the handshake. */
  get isUpgraded(): boolean {
    return this.#isUpgraded;
  }

  /** Takes nothing more of what the server writes, or goes on. */
  stall(isStalled: boolean): void {
    this.#isStalled = isStalled;
    if (!isStalled) this.#goOn?.();
  }

  say(opcode: number, payload: Uint8Array): void {
    if (!this.destroyed && !this.readableEnded) this.push(clientFrame(opcode, payload));
  }

  /** The client ends the line. */
  endOfClient(): void {
    if (!this.destroyed && !this.readableEnded) this.push(null);
  }

  override _read(): void {}

  override _write(chunk: Buffer, _encoding: BufferEncoding, done: () => void): void {
    const take = (): void => {
      this.#goOn = null;
      this.#take(chunk);
      done();
    };
    if (this.#isStalled) this.#goOn = take;
    else take();
  }

  #take(chunk: Buffer): void {
    this.#onBytes(chunk);
    this.#bytes = Buffer.concat([this.#bytes, chunk]);
    if (!this.#isUpgraded) {
      const end = this.#bytes.indexOf('\r\n\r\n');
      if (end < 0) return;
      this.#isUpgraded = true;
      this.#bytes = this.#bytes.subarray(end + 4);
    }
    for (let taken = takeFrame(this.#bytes); taken !== null; taken = takeFrame(this.#bytes)) {
      this.frames.push(taken.frame);
      this.#onFrame(taken.frame);
      this.#bytes = taken.rest;
    }
  }
}
