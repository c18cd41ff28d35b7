import { describe, expect, it } from 'vitest';
import { Metrics } from '../../../server/index.ts';
import type { ConnectionOptions } from '../../../server/sync/connection-options.ts';
import { Outgoing } from '../../../server/sync/outgoing.ts';
import { Reader } from '../../../server/sync/reader.ts';
import { isLate, KEEPS_UP, type ReadingEvent, stepReading } from '../../../server/sync/reading.ts';

const fell = (byte: number, now: number): ReadingEvent => ({
  kind: 'fell-behind',
  stateVector: Uint8Array.of(byte),
  now,
});
const upon = (...events: readonly ReadingEvent[]) =>
  events.reduce((reading, event) => Object.freeze(stepReading(reading, event)), KEEPS_UP);

describe('how a reader reads', () => {
  it('[V50] who falls behind is waited for from then on, for so long', () => {
    const behind = upon(fell(1, 100));
    expect([isLate(behind, 120, 20), isLate(behind, 121, 20), isLate(KEEPS_UP, 1e9, 20)]).toEqual([
      false,
      true,
      false,
    ]);
  });

  it('[V50] who falls behind again meanwhile is not waited for any longer, and has less to come', () => {
    expect(upon(fell(1, 100), fell(2, 200))).toEqual({
      kind: 'behind',
      stateVector: Uint8Array.of(2),
      since: 100,
    });
  });

  it('[V50] who has caught up begins anew', () => {
    expect(upon(fell(1, 100), { kind: 'caught-up' })).toBe(KEEPS_UP);
    expect(upon(fell(1, 100), { kind: 'caught-up' }, fell(1, 300))).toMatchObject({ since: 300 });
  });

  it('[V50] a clock that is set back makes nobody wait until it is where it was', () => {
    expect(upon(fell(1, 100), { kind: 'set-back', now: 40 })).toMatchObject({ since: 40 });
    expect(upon(fell(1, 100), { kind: 'set-back', now: 140 })).toMatchObject({ since: 100 });
    expect(upon({ kind: 'set-back', now: 40 })).toBe(KEEPS_UP);
  });
});

describe('the way to a reader', () => {
  it('[V50] [V261] who asks again while it waits for room, and is answered, is not behind any more', () => {
    const most = 1_000;
    const outgoing = new Outgoing({
      queuedBytes: most,
      queuedBytesPerPerson: most,
      queuedBytesPerAddress: most,
    });
    const account = outgoing.open('person', 'ada');
    // Another socket of hers has much to read.
    outgoing.add(account, 600);
    const held = { bytes: 500 };
    const room = {
      held,
      stateVector: () => Uint8Array.of(0),
      answerStep1: () => [Buffer.from('all of it')],
      members: { presence: { entries: () => [] } },
    };
    const heard: string[] = [];
    const raw = {
      writableLength: 0,
      writableHighWaterMark: 16_384,
      write: (frame: Buffer) => heard.push(`${frame}`),
    };
    const options = {
      raw,
      room,
      outgoing,
      account,
      limits: { readerBytes: most, readerMs: 20 },
      metrics: new Metrics(),
      now: () => 100,
    } as unknown as ConnectionOptions;
    const reader = new Reader({ isOver: false, send: (frame) => reader.write(frame) }, options);
    reader.answer(Uint8Array.of(0));
    reader.sendEdits(Buffer.from('an edit'));
    expect([heard, reader.isTooSlow(1_000)]).toEqual([[], false]);
    // Encoded anew the document is smaller.
    held.bytes = 300;
    reader.answer(Uint8Array.of(0));
    reader.sendEdits(Buffer.from('the next'));
    expect([heard, reader.isTooSlow(1_000)]).toEqual([['all of it', 'the next'], false]);
  });
});
