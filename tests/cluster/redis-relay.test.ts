import { Redis } from 'ioredis';
import * as encoding from 'lib0/encoding';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { machineClock } from '../../server/index.ts';
import { RedisRelay } from '../../server/relay/index.ts';
import { until } from '../support/until.ts';
import { relayContract } from '../server/relay-contract.ts';
import { type Service, startRedis } from './real-services.ts';

relayContract('Redis', async () => {
  const redis = await startRedis();
  const open = (): Promise<RedisRelay> =>
    RedisRelay.open({ url: redis.url, clock: machineClock, onState: () => {} });
  const nodes = [await open(), await open(), await open()] as const;
  return {
    nodes,
    cut: () => redis.stop('kill'),
    mend: () => redis.start(),
    dispose: async () => {
      await Promise.all(nodes.map((node) => node.close()));
      await redis.dispose();
    },
  };
});

describe('what comes over Redis', () => {
  let redis: Service;
  let wire: Redis;
  beforeAll(async () => {
    redis = await startRedis();
    wire = new Redis(redis.url);
  });
  afterAll(async () => {
    wire.disconnect();
    await redis.dispose();
  });

  /** What a node sends: its name, a number counted up for each document, the kind by its number, and the rest. */
  async function send(room: string, number: number, kind: number, rest: number): Promise<void> {
    const encoder = encoding.createEncoder();
    encoding.writeVarString(encoder, 'another node');
    for (const value of [number, kind]) encoding.writeVarUint(encoder, value);
    encoding.writeUint8(encoder, rest);
    await wire.publish(`larkboard:${room}`, Buffer.from(encoding.toUint8Array(encoder)));
  }

  it('[V95] of a kind that only a newer node knows is passed over, and is no gap; a number left out is one', async () => {
    const relay = await RedisRelay.open({ url: redis.url, clock: machineClock, onState: () => {} });
    const heard: string[] = [];
    await relay.join('r', ({ kind, bytes }) => heard.push(`${kind} ${bytes[0]}`));
    const gaps: (string | null)[] = [];
    relay.onGap((room) => gaps.push(room));
    await send('r', 1, 0, 10);
    await send('r', 2, 250, 11);
    await send('r', 3, 1, 12);
    await until('what is known is heard', () => heard.length === 2);
    expect([heard, gaps]).toEqual([['update 10', 'presence 12'], []]);
    await send('r', 5, 0, 13);
    await until('the next is heard', () => heard.length === 3);
    expect(gaps).toEqual(['r']);
    // A node that began anew counts from one.
    await send('r', 1, 0, 14);
    await until('the new one is heard', () => heard.length === 4);
    expect(gaps).toEqual(['r']);
    await relay.close();
  });

  it('[V95] and cannot be read is as good as lost: the document is read anew, and the node goes on', async () => {
    const relay = await RedisRelay.open({ url: redis.url, clock: machineClock, onState: () => {} });
    const heard: string[] = [];
    await relay.join('r', ({ kind }) => heard.push(kind));
    const gaps: (string | null)[] = [];
    relay.onGap((room) => gaps.push(room));
    await wire.publish('larkboard:r', Buffer.from([9, 1]));
    await send('r', 1, 0, 10);
    await until('the next is heard', () => heard.length === 1);
    expect([gaps, relay.isUp]).toEqual([['r'], true]);
    await relay.close();
  });
});
