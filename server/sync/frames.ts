/** WebSocket frames, made once and written to every reader. What stands in them: `messages.ts`. */

/** A frame whose payload is still to be written, from a place on. */
export interface OpenFrame {
  readonly frame: Buffer;
  readonly at: number;
}

/** A whole unmasked binary frame (RFC 6455, 5.2), ready for the socket. One copy of the payload. */
export function binaryFrame(payload: Uint8Array): Buffer {
  const { frame, at } = openFrame(payload.length);
  frame.set(payload, at);
  return frame;
}

/** A frame for a payload of so many bytes. */
export function openFrame(length: number): OpenFrame {
  const at = length < 126 ? 2 : length < 65_536 ? 4 : 10;
  const frame = Buffer.allocUnsafe(at + length);
  frame[0] = 0x82;
  if (at === 2) frame[1] = length;
  else if (at === 4) {
    frame[1] = 126;
    frame.writeUInt16BE(length, 2);
  } else {
    frame[1] = 127;
    frame.writeUInt32BE(0, 2);
    frame.writeUInt32BE(length, 6);
  }
  return { frame, at };
}
