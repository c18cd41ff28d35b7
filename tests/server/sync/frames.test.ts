import type { EventEmitter } from 'node:events';
import { expect, it } from 'vitest';
import * as ws from 'ws';
import { frameOf } from '../../../server/sync/messages.ts';
import { message } from '../raw-client.ts';

/** Lengths on both sides of where a length takes one byte more, in lib0's numbers (2^7, 2^14, 2^21) and in RFC 6455, 5.2. */
const LENGTHS = [
  0,
  1,
  120,
  121,
  122,
  123,
  124,
  127,
  128,
  129,
  16_383,
  16_384,
  65_520,
  65_530,
  65_536,
  2 ** 21,
];

interface ReceiverOptions {
  readonly isServer: boolean;
  readonly maxPayload: number;
}
/** Exported by `ws`, though its types do not say so. */
const { Receiver } = ws as unknown as {
  readonly Receiver: new (options: ReceiverOptions) => EventEmitter & { write(bytes: Buffer): void };
};

/** What a WebSocket receiver of its own makes of a frame. */
function receive(frame: Buffer): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const receiver = new Receiver({ isServer: false, maxPayload: 2 ** 24 });
    receiver.on('message', (data: Buffer) => resolve(data));
    receiver.on('error', reject);
    receiver.write(frame);
  });
}

it.each(LENGTHS)('a frame of %i bytes is what the library encodes and a receiver reads', async (length) => {
  const bytes = Uint8Array.from({ length }, (_, at) => at % 251);
  const frames = [
    frameOf({ kind: 'step1', vector: bytes }),
    frameOf({ kind: 'step2', update: bytes }),
    frameOf({ kind: 'update', update: bytes }),
  ];
  for (const [kind, frame] of frames.entries())
    expect(Buffer.compare(await receive(frame), message(0, kind, bytes))).toBe(0);
});
