/** Keeping the screen on while both hands tie: asked for again when the page comes back, and given back when it is not wanted. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { stubHost } from '../../support/visited-page.ts';
import { turnsOfTheLoop } from '../../support/until.ts';

const page = Object.assign(new EventTarget(), { visibilityState: 'visible' });
let isRefused: unknown = null;
let locks: { released: boolean; release: () => Promise<void> }[] = [];

vi.stubGlobal('document', page);
vi.stubGlobal('navigator', {
  wakeLock: {
    request: async () => {
      if (isRefused !== null) throw isRefused;
      const lock = {
        released: false,
        release: async () => {
          lock.released = true;
        },
      };
      locks.push(lock);
      return lock;
    },
  },
});
const { ScreenAwake } = await import('../../../web/panels/screen-awake.ts');

beforeEach(() => {
  isRefused = null;
  locks = [];
  page.visibilityState = 'visible';
});

function awake() {
  const host = stubHost();
  const screen = new ScreenAwake(host);
  screen.hostConnected();
  return { host, screen };
}
const held = (): boolean[] => locks.map(({ released }) => !released);
const turnPage = (state: string): unknown => {
  page.visibilityState = state;
  return page.dispatchEvent(new Event('visibilitychange'));
};

describe('the screen', () => {
  it('stays on while it is wanted', async () => {
    const { screen, host } = awake();
    expect(ScreenAwake.isPossible).toBe(true);
    screen.want(true);
    expect([screen.isWanted, host.updates]).toEqual([true, 1]);
    await turnsOfTheLoop();
    expect(held()).toEqual([true]);
    screen.want(false);
    expect([screen.isWanted, held()]).toEqual([false, [false]]);
  });

  it('is asked for again when the page is back in sight, and only then and where it is wanted', async () => {
    const { screen } = awake();
    turnPage('visible');
    screen.want(true);
    await turnsOfTheLoop();
    turnPage('hidden');
    await turnsOfTheLoop();
    expect(held()).toEqual([true]);
    turnPage('visible');
    await turnsOfTheLoop();
    expect(held()).toEqual([false, true]);
    screen.hostDisconnected();
    turnPage('visible');
    await turnsOfTheLoop();
    expect(held()).toEqual([false, false]);
  });

  it('that was given after it was wanted is given back', async () => {
    const { screen } = awake();
    screen.want(true);
    screen.want(false);
    await turnsOfTheLoop();
    expect(held()).toEqual([false]);
  });

  it('is not on where the browser refuses, which is said until it is wanted anew', async () => {
    isRefused = new DOMException('the battery is low', 'NotAllowedError');
    const { screen, host } = awake();
    screen.want(true);
    await turnsOfTheLoop();
    expect([screen.isWanted, screen.hasFailed, host.updates]).toEqual([false, true, 2]);
    isRefused = null;
    screen.want(true);
    await turnsOfTheLoop();
    expect([screen.isWanted, screen.hasFailed, held()]).toEqual([true, false, [true]]);
  });
});
