/** Entries that speak of the knot under the pointer are marked, whether they name it or one of its strings. */
import type { ReactiveController, ReactiveElement } from 'lit';
import { expect, it } from 'vitest';
import type { Pointed } from '../../../web/board/events.ts';
import { PointedMarks } from '../../../web/board/pointed-marks.ts';
import { Subject } from '../../../web/context/index.ts';

class Entry {
  readonly dataset: { readonly strings?: string; readonly knots?: string };
  isPointed = false;
  readonly classList = {
    toggle: (name: string, isOn: boolean) => {
      expect(name).toBe('pointed');
      this.isPointed = isOn;
    },
  };

  constructor(dataset: { readonly strings?: string; readonly knots?: string }) {
    this.dataset = dataset;
  }
}

function element(entries: readonly Entry[]) {
  const controllers: ReactiveController[] = [];
  const host = {
    isConnected: true,
    addController: (one: ReactiveController) => controllers.push(one),
    renderRoot: { querySelectorAll: () => entries },
  };
  const marks = new PointedMarks(host as unknown as ReactiveElement);
  const marked = (): readonly boolean[] => entries.map(({ isPointed }) => isPointed);
  return { host, marks, marked, controllers };
}

const AT: Pointed = { row: 4, k: 2, left: 3, right: 8 };

it('[A61] marks what names the knot or one of its two strings, and nothing that only looks alike', () => {
  const entries = [
    new Entry({ strings: '1 3' }),
    new Entry({ strings: '8' }),
    new Entry({ strings: '13 38' }),
    new Entry({ knots: '4:1 4:2' }),
    new Entry({ knots: '14:2 4:22' }),
    new Entry({ strings: '1', knots: '4:2' }),
  ];
  const pointed = new Subject<Pointed | null>(null);
  const { marks, marked } = element(entries);
  marks.follow(pointed);
  pointed.set(AT);
  expect(marked()).toEqual([true, true, false, true, false, true]);
  pointed.set(null);
  expect(marked()).toEqual(entries.map(() => false));
});

it('[A61] marks what was rendered meanwhile, follows another subject instead, and none once it has left', () => {
  const entries = [new Entry({ knots: '4:2' })];
  const { host, marks, marked, controllers } = element(entries);
  marks.hostUpdated();
  expect(marked()).toEqual([false]);
  const [first, second] = [new Subject<Pointed | null>(AT), new Subject<Pointed | null>(null)];
  marks.follow(first);
  expect(marked()).toEqual([false]);
  marks.hostUpdated();
  expect(marked()).toEqual([true]);
  marks.follow(second);
  marks.hostUpdated();
  expect(marked()).toEqual([false]);
  first.set({ ...AT, left: 0 });
  expect(marked()).toEqual([false]);
  second.set(AT);
  expect(marked()).toEqual([true]);
  host.isConnected = false;
  for (const controller of controllers) controller.hostDisconnected?.();
  second.set(null);
  expect(marked()).toEqual([true]);
  marks.follow(null);
  marks.hostUpdated();
  expect(marked()).toEqual([false]);
});
