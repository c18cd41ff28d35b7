import { once } from 'node:events';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import { beforeEach, describe, expect, it } from 'vitest';
import { type Account, Outgoing } from '../../../server/sync/outgoing.ts';
import { ReaderQueue } from '../../../server/sync/reader-queue.ts';
import { until } from '../../support/until.ts';

const LIMITS = { queuedBytes: 10_000_000, queuedBytesPerPerson: 4_000_000, queuedBytesPerAddress: 1_000_000 };
const MOST_MS = 20_000;

/** A socket below, of which a test says how much the reader has taken. */
class Line {
  writableLength = 0;
  readonly writableHighWaterMark = 16_384;
  destroyed = false;
  _handle: { writeQueueSize: number } | null = { writeQueueSize: 0 };

  write(bytes: Buffer): boolean {
    this.writableLength += bytes.length;
    this._handle!.writeQueueSize += bytes.length;
    return this.writableLength < this.writableHighWaterMark;
  }

  /** The system takes some; Node counts a piece as gone when all of it is. */
  take(bytes: number): void {
    this._handle!.writeQueueSize -= bytes;
    if (this._handle!.writeQueueSize === 0) this.writableLength = 0;
  }
}

let outgoing: Outgoing;
let account: Account;
let line: Line;
let queue: ReaderQueue;

beforeEach(() => {
  outgoing = new Outgoing(LIMITS);
  account = outgoing.open('person', 'ada');
  line = new Line();
  queue = new ReaderQueue(line as unknown as Duplex, outgoing, account);
});

describe('what waits for a reader', () => {
  it('[V260] is counted when it is much, and given back when it has gone or the socket ends', () => {
    queue.write(Buffer.alloc(100));
    expect([queue.bytes, account.bytes, outgoing.bytes]).toEqual([100, 0, 0]);
    queue.write(Buffer.alloc(500_000));
    expect([account.bytes, outgoing.bytes]).toEqual([500_100, 500_100]);
    line.take(500_100);
    queue.drained();
    expect([account.bytes, outgoing.bytes]).toEqual([0, 0]);
    queue.write(Buffer.alloc(500_000));
    queue.end();
    expect([account.bytes, outgoing.bytes]).toEqual([0, 0]);
    expect(outgoing.open('person', 'ada')).not.toBe(account);
  });

  it('[V260] is stuck when nothing of it goes for so long, and not while some does', () => {
    queue.write(Buffer.alloc(100_000));
    let now = 0;
    const isStuckAfter = (ms: number): boolean => {
      now += ms;
      return queue.isStuck(now, MOST_MS);
    };
    expect(isStuckAfter(0)).toBe(false);
    for (let taken = 0; taken < 90_000; taken += 10_000) {
      line.take(10_000);
      expect(isStuckAfter(MOST_MS)).toBe(false);
    }
    expect(isStuckAfter(MOST_MS)).toBe(false);
    expect(isStuckAfter(1)).toBe(true);
    line.take(10_000);
    expect(isStuckAfter(0)).toBe(false);
    expect(isStuckAfter(10 * MOST_MS)).toBe(false);
  });

  it('[V261] is in the way of whoever waits for room, also while some of it goes', () => {
    queue.write(Buffer.alloc(4_000_000));
    queue.isStuck(0, MOST_MS);
    const other = new ReaderQueue(new Line() as unknown as Duplex, outgoing, outgoing.open('person', 'ada'));
    let isCalled = false;
    const call = (): void => {
      isCalled = true;
    };
    expect(other.hasRoomFor(1_000, call)).toBe(false);
    line.take(1);
    expect(queue.isStuck(MOST_MS, MOST_MS)).toBe(false);
    line.take(1);
    expect(queue.isStuck(MOST_MS + 1, MOST_MS)).toBe(true);
    expect([other.isWaiting, isCalled]).toEqual([true, false]);
    queue.end();
    expect([other.isWaiting, isCalled]).toEqual([false, true]);
  });

  it('[V260] a reader whose account is full gets no more edits, however short its own queue is', () => {
    queue.write(Buffer.alloc(3_900_000));
    const other = new ReaderQueue(new Line() as unknown as Duplex, outgoing, outgoing.open('person', 'ada'));
    expect(other.isLong(1_000_000)).toBe(false);
    other.write(Buffer.alloc(200_000));
    expect(other.isLong(1_000_000)).toBe(true);
  });

  it('[V260] Node tells of a real socket how much of it the system has not taken', async () => {
    const server = createServer();
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
    const reader = connect((server.address() as AddressInfo).port, '127.0.0.1');
    reader.pause();
    const [socket] = (await once(server, 'connection')) as [Socket];
    const real = new ReaderQueue(socket, outgoing, account);
    const left = (): number =>
      (socket as unknown as { _handle: { writeQueueSize: number } })._handle.writeQueueSize;
    real.write(Buffer.alloc(64 * 1024 * 1024));
    const before = left();
    expect(before).toBeGreaterThan(0);
    expect(before).toBeLessThan(64 * 1024 * 1024);
    expect(account.bytes).toBe(64 * 1024 * 1024);
    reader.resume();
    await until('some of it has gone', () => left() < before);
    await until('all of it has gone', () => left() === 0 && real.bytes === 0);
    reader.destroy();
    socket.destroy();
    server.close();
  });
});

describe('room for answers', () => {
  it('[V261] goes to those who wait in their order, past whoever needs more than there is', () => {
    const addresses = ['a', 'b', 'c'].map((address) => outgoing.open('strangers', address));
    const calls: string[] = [];
    outgoing.add(account, 4_900_000);
    outgoing.whenRoomFor(addresses[0]!, 900_000, () => calls.push('first'));
    outgoing.whenRoomFor(addresses[1]!, 900_000, () => calls.push('second'));
    const takeBack = outgoing.whenRoomFor(addresses[2]!, 10, () => calls.push('taken back'));
    takeBack();
    expect(outgoing.isAwaited).toBe(true);
    outgoing.add(account, -50_000);
    expect(calls).toEqual([]);
    outgoing.add(account, -800_000);
    expect(calls).toEqual(['first', 'second']);
    expect(outgoing.isAwaited).toBe(false);
  });

  it('[V262] an answer that alone is more than allowed comes where nothing else waits', () => {
    const stranger = outgoing.open('strangers', 'a');
    expect(outgoing.hasRoomFor(stranger, 50_000_000)).toBe(true);
    outgoing.add(stranger, 1);
    expect(outgoing.hasRoomFor(stranger, 50_000_000)).toBe(false);
    expect(outgoing.hasRoomFor(stranger, 999_999)).toBe(true);
    expect(outgoing.hasRoomFor(stranger, 1_000_000)).toBe(false);
  });
});
