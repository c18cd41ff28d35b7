/** What every relay must do, run against each of them. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Relay, RelayMessage } from '../../server/relay/index.ts';
import { until } from '../support/until.ts';

export interface OpenedRelays {
  /** Three nodes. */
  readonly nodes: readonly [Relay, Relay, Relay];
  /** Cuts every node off; messages sent meanwhile are lost. */
  readonly cut: () => Promise<void>;
  readonly mend: () => Promise<void>;
  readonly dispose: () => Promise<void>;
}

/** All but pauses, which a relay may leave out: nothing depends on them. */
const KINDS = Object.keys({
  update: true,
  presence: true,
  'present?': true,
  reload: true,
  removed: true,
  narrowed: true,
  renewed: true,
  'open?': true,
  open: true,
  proposals: true,
  lesson: true,
} satisfies Record<Exclude<RelayMessage['kind'], 'pausing' | 'going-on'>, true>) as RelayMessage['kind'][];

const message = (kind: RelayMessage['kind'], ...bytes: number[]): RelayMessage => ({
  kind,
  bytes: Uint8Array.from(bytes),
});

export function relayContract(name: string, open: () => Promise<OpenedRelays>): void {
  describe(`relay: ${name}`, () => {
    let opened: OpenedRelays;
    beforeEach(async () => {
      opened = await open();
    });
    afterEach(async () => {
      await opened.dispose();
    });

    /** Joins a room and keeps what is heard as text. */
    async function listen(relay: Relay, room: string): Promise<{ heard: string[]; leave: () => void }> {
      const heard: string[] = [];
      const leave = await relay.join(room, ({ kind, bytes }) => heard.push(`${kind} ${[...bytes].join()}`));
      return { heard, leave };
    }

    it('[V95] of every kind, as that kind', async () => {
      const [a, b] = opened.nodes;
      const { heard } = await listen(b, 'r');
      for (const [i, kind] of KINDS.entries()) a.send('r', message(kind, i));
      await until('all are heard', () => heard.length === KINDS.length);
      expect(heard).toEqual(KINDS.map((kind, i) => `${kind} ${i}`));
    });

    it('[V95] the others hear, in order and byte for byte; the sender does not', async () => {
      const [a, b, c] = opened.nodes;
      const [ownEar, ears] = [await listen(a, 'r'), [await listen(b, 'r'), await listen(c, 'r')]];
      for (let i = 0; i < 50; i += 1) a.send('r', message('update', i, 0, 255));
      a.send('r', message('presence'));
      await until('all have heard', () => ears.every(({ heard }) => heard.length === 51));
      for (const { heard } of ears) {
        expect(heard.slice(0, 2)).toEqual(['update 0,0,255', 'update 1,0,255']);
        expect(heard.slice(-2)).toEqual(['update 49,0,255', 'presence ']);
      }
      expect(ownEar.heard).toEqual([]);
    });

    it('[V95] rooms are apart, and who has left hears no more', async () => {
      const [a, b, c] = opened.nodes;
      const [other, gone, stays] = [await listen(b, 'other'), await listen(b, 'r'), await listen(c, 'r')];
      gone.leave();
      a.send('r', message('update', 1));
      a.send('r', message('update', 2));
      await until('the one who stays has heard', () => stays.heard.length === 2);
      expect(gone.heard).toEqual([]);
      expect(other.heard).toEqual([]);
    });

    it('[V95] two on one node hear each for itself; one that leaves leaves the other', async () => {
      const [a, b] = opened.nodes;
      const [first, second] = [await listen(b, 'r'), await listen(b, 'r')];
      a.send('r', message('update', 1));
      await until('both have heard', () => [first, second].every(({ heard }) => heard.length === 1));
      first.leave();
      // Leaving twice takes nobody else along.
      first.leave();
      a.send('r', message('update', 2));
      await until('the one who stays has heard', () => second.heard.length === 2);
      expect(first.heard).toEqual(['update 1']);
      second.leave();
      const third = await listen(b, 'r');
      a.send('r', message('update', 3));
      await until('who came later has heard', () => third.heard.length === 1);
      expect([first.heard.length, second.heard.length]).toEqual([1, 2]);
    });

    it('[V95] what is opened while a node is cut off hears once it is back, and what is closed meanwhile stays closed', async () => {
      const [a, b] = opened.nodes;
      const closed = await listen(b, 'closed');
      await listen(a, 'closed');
      await opened.cut();
      await until('both know', () => !a.isUp && !b.isUp);
      const ear = await listen(b, 'opened');
      closed.leave();
      await opened.mend();
      await until('both are up', () => a.isUp && b.isUp);
      a.send('closed', message('update', 1));
      a.send('opened', message('update', 2));
      await until('it is heard', () => ear.heard.length === 1);
      expect([ear.heard, closed.heard]).toEqual([['update 2'], []]);
    });

    it('[V95] without losses no gap is announced', async () => {
      const [a, b] = opened.nodes;
      const gaps: (string | null)[] = [];
      b.onGap((room) => gaps.push(room));
      const ear = await listen(b, 'r');
      await listen(a, 'r');
      for (let i = 0; i < 20; i += 1) a.send('r', message('update', i));
      await until('all heard', () => ear.heard.length === 20);
      expect(gaps).toEqual([]);
    });

    it('[V95] after being cut off every node announces a gap, and messages pass again', async () => {
      const [a, b] = opened.nodes;
      const gaps = new Map<Relay, (string | null)[]>();
      for (const relay of opened.nodes) {
        gaps.set(relay, []);
        relay.onGap((room) => gaps.get(relay)!.push(room));
      }
      const ear = await listen(b, 'r');
      await listen(a, 'r');
      await opened.cut();
      await until('all know', () => opened.nodes.every((relay) => !relay.isUp));
      a.send('r', message('update', 1));
      await opened.mend();
      await until('all are up', () => opened.nodes.every((relay) => relay.isUp));
      await until('all have announced it', () => [...gaps.values()].every((seen) => seen.includes(null)));
      a.send('r', message('update', 2));
      await until('it passes', () => ear.heard.includes('update 2'));
      expect(ear.heard).not.toContain('update 1');
    });
  });
}
