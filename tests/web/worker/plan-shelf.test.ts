/** Plans that take a search: worked out one after the other, dropped when nobody asks any more, and kept. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type MountPlan, mountFrom, planMount } from '../../../engine/index.ts';
import { PlanReader } from '../../../web/worker/index.ts';
import { type Mounted, PlanShelf, type PlanState } from '../../../web/worker/plan-shelf.ts';
import { JobError } from '../../../web/worker/start-job.ts';

interface Begun {
  readonly board: Mounted;
  readonly tell: (share: number) => void;
  readonly answer: (plan: MountPlan) => void;
  readonly fail: (error: Error) => void;
  isCancelled: boolean;
}

/** An order of 2n places that crosses and that no rule plans at once. */
function crossing(n: number): Mounted {
  const half = Array.from({ length: n }, (_, i) => `c${i}`);
  return {
    pattern: { colours: [...half, ...half], start: 0, rows: 0, knots: new Uint8Array(0) },
    piece: {},
  };
}

const planOf = ({ pattern }: Mounted): MountPlan => planMount(pattern.colours);

let begun: Begun[];
let shelf: PlanShelf;

beforeEach(() => {
  vi.useFakeTimers();
  begun = [];
  shelf = new PlanShelf((board, tell) => {
    let answer: (plan: MountPlan) => void = () => {};
    let fail: (error: Error) => void = () => {};
    const promise = new Promise<MountPlan>((resolve, reject) => {
      answer = resolve;
      fail = reject;
    });
    const one: Begun = { board, tell, answer, fail, isCancelled: false };
    begun.push(one);
    return {
      answer: promise,
      cancel: () => {
        one.isCancelled = true;
      },
    };
  });
});

/** A watch on one board, with all that it was told. */
function watchOn(first: Mounted) {
  const seen: PlanState[] = [];
  let board = first;
  const look = (): PlanState => watch.read((stateOf) => stateOf(board));
  const watch = shelf.watch(() => seen.push(look()));
  return {
    seen,
    look,
    turnTo: (next: Mounted): PlanState => {
      board = next;
      return look();
    },
    end: () => watch.end(),
  };
}

describe('without a ring', () => {
  it('[B280] nothing is mounted, at once and whatever the order; hung again it is worked out', () => {
    const hung = crossing(13);
    const worn = (begin: 'loose' | 'loop' | 'stick'): Mounted => ({ ...hung, piece: { begin } });
    const watch = watchOn(worn('loop'));
    expect(watch.look()).toMatchObject({ kind: 'found', plan: { folds: [], singles: [], neat: true } });
    expect(watch.turnTo(worn('stick'))).toEqual(watch.turnTo(worn('loose')));
    vi.runAllTimers();
    expect(begun).toEqual([]);
    expect(watch.turnTo(hung)).toMatchObject({ kind: 'looking' });
    vi.runAllTimers();
    expect(begun).toHaveLength(1);
  });
});

describe('[B120] plans that take a search', () => {
  it('come from the worker after the edit is waited out, with what is done before', async () => {
    const watch = watchOn(crossing(14));
    expect(watch.look()).toEqual({ kind: 'looking', share: 0 });
    expect(begun).toHaveLength(0);
    await vi.advanceTimersByTimeAsync(200);
    expect(begun).toHaveLength(1);
    begun[0]!.tell(0.5);
    begun[0]!.answer(planOf(crossing(14)));
    await vi.advanceTimersByTimeAsync(0);
    expect(watch.seen).toEqual([
      { kind: 'looking', share: 0.5 },
      { kind: 'found', plan: planOf(crossing(14)) },
    ]);
  });

  it('are dropped when an edit asks for another, and kept when it comes back', async () => {
    const watch = watchOn(crossing(14));
    watch.look();
    await vi.advanceTimersByTimeAsync(200);
    watch.turnTo(crossing(15));
    expect(begun[0]!.isCancelled).toBe(true);
    await vi.advanceTimersByTimeAsync(200);
    expect(begun.map(({ board }) => board.pattern.colours.length)).toEqual([28, 30]);
    // What the worker that was ended might still say changes nothing.
    begun[0]!.answer(planOf(crossing(14)));
    await vi.advanceTimersByTimeAsync(0);
    expect(watch.seen).toEqual([]);
    begun[1]!.answer(planOf(crossing(15)));
    await vi.advanceTimersByTimeAsync(0);
    watch.turnTo(crossing(16));
    expect(watch.turnTo(crossing(15)).kind).toBe('found');
    await vi.advanceTimersByTimeAsync(200);
    expect(begun).toHaveLength(2);
  });

  it('are worked out once for all who ask, one after the other, and ended when the last leaves', async () => {
    const [one, two, other] = [watchOn(crossing(14)), watchOn(crossing(14)), watchOn(crossing(15))];
    for (const watch of [one, two, other]) watch.look();
    await vi.advanceTimersByTimeAsync(200);
    expect(begun).toHaveLength(1);
    one.end();
    expect(begun[0]!.isCancelled).toBe(false);
    begun[0]!.answer(planOf(crossing(14)));
    await vi.advanceTimersByTimeAsync(1);
    expect(two.seen.at(-1)?.kind).toBe('found');
    expect(other.seen).toEqual([]);
    expect(begun).toHaveLength(2);
    other.end();
    expect(begun[1]!.isCancelled).toBe(true);
  });

  it('can be stopped and begun again; what failed says why', async () => {
    const watch = watchOn(crossing(14));
    watch.look();
    await vi.advanceTimersByTimeAsync(200);
    shelf.stop();
    expect(begun[0]!.isCancelled).toBe(true);
    expect(watch.seen.at(-1)).toEqual({ kind: 'stopped' });
    await vi.advanceTimersByTimeAsync(500);
    expect(begun).toHaveLength(1);
    shelf.again();
    expect(watch.seen.at(-1)?.kind).toBe('looking');
    await vi.advanceTimersByTimeAsync(200);
    begun[1]!.fail(new JobError('notStarted', 'gone'));
    await vi.advanceTimersByTimeAsync(1);
    expect(watch.seen.at(-1)).toEqual({ kind: 'failed', why: 'notStarted' });
  });

  it('[M18] neat orders and those of up to 24 places are there at once', async () => {
    for (const board of [crossing(12), { ...crossing(40), piece: { singles: 'free' as const } }]) {
      const watch = watchOn(board);
      expect(watch.look()).toEqual({ kind: 'found', plan: planMount(board.pattern.colours, board.piece) });
    }
    await vi.advanceTimersByTimeAsync(500);
    expect(begun).toHaveLength(0);
  });
});

describe('[B124] [M40] plans of who begins on the right', () => {
  it('are the same plans mounted from there, wherever they are shown, until the left side is chosen', async () => {
    const board: Mounted = {
      pattern: { colours: [...'abbacddc'], start: 0, rows: 0, knots: new Uint8Array(0) },
      piece: {},
    };
    const watch = watchOn(board);
    const left = watch.look();
    const right = { kind: 'found', plan: planMount([...'abbacddc'], { firstHalf: 'right' }) };
    const turn = (plan: MountPlan, colours: readonly string[]): MountPlan =>
      mountFrom(plan, colours, 'right');
    shelf.turnBy(turn);
    expect(watch.seen).toEqual([right]);
    expect(watch.look()).toBe(watch.look());
    expect(shelf.foundOf(board)).toEqual(right.plan);
    // Nobody is told where nothing changes.
    shelf.turnBy(turn);
    expect(watch.seen).toHaveLength(1);
    const searched = watchOn(crossing(14));
    searched.look();
    await vi.advanceTimersByTimeAsync(200);
    begun[0]!.answer(planOf(crossing(14)));
    await vi.advanceTimersByTimeAsync(0);
    expect(searched.seen).toEqual([
      { kind: 'found', plan: mountFrom(planOf(crossing(14)), crossing(14).pattern.colours, 'right') },
    ]);
    shelf.turnBy(null);
    expect(watch.look()).toEqual(left);
    expect(searched.look()).toEqual({ kind: 'found', plan: planOf(crossing(14)) });
  });
});

describe('an element that shows plans', () => {
  let workers = 0;
  beforeEach(() => {
    workers = 0;
    vi.stubGlobal(
      'Worker',
      class extends EventTarget {
        constructor() {
          super();
          workers += 1;
        }
        postMessage(): void {}
        terminate(): void {}
      },
    );
  });
  afterEach(() => vi.unstubAllGlobals());

  it('asks for none once it has left the page, also where it is rendered once more', async () => {
    const reader = new PlanReader({ addController: () => {}, requestUpdate: () => {} } as never);
    reader.hostConnected();
    expect(reader.stateOf(crossing(15)).kind).toBe('looking');
    reader.hostDisconnected();
    for (const late of [() => reader.stateOf(crossing(16)), () => reader.all([crossing(16)])])
      expect(late().kind).toBe('looking');
    await vi.advanceTimersByTimeAsync(500);
    expect(workers).toBe(0);
    reader.hostConnected();
    reader.stateOf(crossing(16));
    await vi.advanceTimersByTimeAsync(500);
    expect(workers).toBe(1);
    reader.hostDisconnected();
  });
});
