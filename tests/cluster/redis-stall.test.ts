/** Redis that answers nothing while its lines stand: behind a gate that holds what passes. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { machineClock } from '../../server/index.ts';
import { RedisRelay, type RelayMessage } from '../../server/relay/index.ts';
import { HandClock } from '../support/hand-clock.ts';
import { until } from '../support/until.ts';
import { type Service, startRedis } from './real-services.ts';
import { startGate, type TcpGate } from './tcp-gate.ts';

let redis: Service;
let gate: TcpGate;
let clock: HandClock;
let relays: RedisRelay[];

beforeEach(async () => {
  redis = await startRedis();
  gate = await startGate(redis.port);
  clock = new HandClock();
  relays = [];
});
afterEach(async () => {
  await Promise.all(relays.map((relay) => relay.close()));
  await gate.close();
  await redis.dispose();
});

/** A node that reaches Redis through the gate, or directly. */
async function open(isBehindGate: boolean): Promise<RedisRelay> {
  const port = isBehindGate ? gate.port : redis.port;
  const relay = await RedisRelay.open({
    url: `redis://127.0.0.1:${port}`,
    clock: isBehindGate ? clock : machineClock,
    onState: () => {},
  });
  relays.push(relay);
  return relay;
}

const update = (...bytes: number[]): RelayMessage => ({ kind: 'update', bytes: Uint8Array.from(bytes) });

/** Turns the clock by seconds until something is so. @returns how many it took */
async function secondsUntil(what: string, holds: () => boolean): Promise<number> {
  let seconds = 0;
  await until(what, () => {
    if (holds()) return true;
    clock.turn(1_000);
    seconds += 1;
    return holds();
  });
  return seconds;
}

describe('a Redis that stalls without closing', () => {
  it('[V305] is noticed within seconds, and the line made anew with a gap announced', async () => {
    const [here, there] = [await open(true), await open(false)];
    const gaps: (string | null)[] = [];
    here.onGap((room) => gaps.push(room));
    const heard: string[] = [];
    await here.join('r', ({ bytes }) => heard.push([...bytes].join()));
    await there.join('r', () => {});
    gate.shut();
    there.send('r', update(1));
    expect(await secondsUntil('it is noticed', () => !here.isUp)).toBeLessThanOrEqual(7);
    expect(gaps).toEqual([]);
    // What was held stays held: nobody but the relay itself ends those lines.
    gate.letNewThrough();
    await until('it is up again', () => here.isUp);
    expect(gaps).toEqual([null]);
    there.send('r', update(2));
    await until('messages pass', () => heard.includes('2'));
    expect(heard).not.toContain('1');
  });

  it('[V305] is noticed again where the new line stalls before it is greeted', async () => {
    const here = await open(true);
    gate.shut();
    await secondsUntil('it is noticed', () => !here.isUp);
    await until('the next two lines are held from their first byte on', () => gate.held() >= 4);
    gate.letNewThrough();
    await secondsUntil('it is up again', () => here.isUp);
  });

  it('[V305] a line that answers is left alone, however long it stands', async () => {
    const [here, there] = [await open(true), await open(false)];
    const states: boolean[] = [];
    let heard = 0;
    await there.join('r', () => {
      heard += 1;
    });
    await here.join('own', () => {});
    for (let second = 1; second <= 30; second += 1) {
      clock.turn(1_000);
      // Comes behind the question on the same line.
      here.send('r', update(second));
      await until('Redis has answered', () => heard === second);
      states.push(here.isUp);
    }
    expect(states).toEqual(Array(30).fill(true));
  });

  it('[V305] a document that is opened meanwhile opens once it is noticed', async () => {
    const here = await open(true);
    gate.shut();
    let isJoined = false;
    const joining = here
      .join('r', () => {})
      .then(() => {
        isJoined = true;
      });
    expect(await secondsUntil('it is joined', () => isJoined)).toBeLessThanOrEqual(8);
    await joining;
    expect(here.isUp).toBe(false);
  });

  it('[V305] is an error at start', async () => {
    gate.shut();
    let error: unknown = null;
    const opening = open(true).catch((cause: unknown) => {
      error = cause;
    });
    await secondsUntil('it is given up', () => error !== null);
    await opening;
    expect(error).toBeInstanceOf(Error);
    expect(clock.waiting).toBe(0);
  });

  it('[V306] keeps no more than 16 MiB for it, and announces the gap when it is back', async () => {
    const here = await open(true);
    const gaps: (string | null)[] = [];
    here.onGap((room) => gaps.push(room));
    gate.shut();
    const large: RelayMessage = { kind: 'update', bytes: new Uint8Array(2 ** 20) };
    let taken = 0;
    while (here.isUp && taken < 100) {
      here.send('r', large);
      taken += 1;
    }
    // The last of them was one too many.
    expect([here.isUp, taken]).toEqual([false, 16]);
    gate.letNewThrough();
    await until('it is up again', () => here.isUp);
    expect(gaps).toEqual([null]);
  });

  it('[V306] a message that is larger alone goes when nothing else waits', async () => {
    const [here, there] = [await open(true), await open(false)];
    const heard: number[] = [];
    await there.join('r', ({ bytes }) => heard.push(bytes.length));
    here.send('r', { kind: 'update', bytes: new Uint8Array(20 * 2 ** 20) });
    await until('it is heard', () => heard.length === 1);
    expect([heard, here.isUp]).toEqual([[20 * 2 ** 20], true]);
  });
});
