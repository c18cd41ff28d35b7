import { describe, expect, it } from 'vitest';
import { MOST_MARKS, TieClock } from '../../../web/table/tie-clock.ts';

function clockAt(): { readonly clock: TieClock; readonly wait: (ms: number) => void } {
  let now = 1_000_000;
  const clock = new TieClock(() => now);
  return {
    clock,
    wait: (ms) => {
      now += ms;
    },
  };
}

describe('when knots were tied', () => {
  it('[N60] each mark has the time since the one before it, and whether the page was hidden in between', () => {
    const { clock, wait } = clockAt();
    wait(8000);
    const first = clock.tied([], 1);
    wait(5000);
    clock.hide();
    wait(4000);
    const second = clock.tied(first, 3);
    wait(100);
    expect(clock.tied(second, 1)).toEqual([
      { gapMs: 8000, knots: 1, wasHidden: false },
      { gapMs: 9000, knots: 3, wasHidden: true },
      { gapMs: 100, knots: 1, wasHidden: false },
    ]);
  });

  it('[N60] Back takes the last mark back, and its time counts for the next one; a jump is timed by nothing', () => {
    const { clock, wait } = clockAt();
    wait(3000);
    const marks = clock.tied([], 1);
    wait(2000);
    const back = clock.back(marks);
    expect(back).toEqual([]);
    wait(1000);
    expect(clock.tied(back, 1)).toEqual([{ gapMs: 6000, knots: 1, wasHidden: false }]);
    expect(clock.back([])).toEqual([]);
    wait(50_000);
    clock.anew();
    wait(10);
    expect(clock.tied([], 1)).toEqual([{ gapMs: 10, knots: 1, wasHidden: false }]);
  });

  it('[N60] the latest marks are kept, so many and no more', () => {
    const { clock, wait } = clockAt();
    let marks: ReturnType<TieClock['tied']> = [];
    for (let i = 0; i < MOST_MARKS + 5; i++) {
      wait(i);
      marks = clock.tied(marks, 1);
    }
    expect(marks.map(({ gapMs }) => gapMs)).toEqual(Array.from({ length: MOST_MARKS }, (_, i) => i + 5));
  });
});
