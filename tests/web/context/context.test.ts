/** Values handed down to what stands in an element. */
import type { ReactiveController } from 'lit';
import { describe, expect, it } from 'vitest';
import { Consumer, type Context, provide, Subject } from '../../../web/context/index.ts';

/** An element as a consumer sees one: it hears from its controllers, and its events go up to its parent too. */
class Part extends EventTarget {
  readonly updateComplete = Promise.resolve(true);
  readonly #parent: EventTarget | null;
  readonly #controllers: ReactiveController[] = [];
  renders = 0;

  constructor(parent: EventTarget | null = null) {
    super();
    this.#parent = parent;
  }

  override dispatchEvent(event: Event): boolean {
    let isStopped = false;
    const stop = event.stopPropagation.bind(event);
    event.stopPropagation = () => {
      isStopped = true;
      stop();
    };
    super.dispatchEvent(event);
    return isStopped || this.#parent === null || this.#parent.dispatchEvent(event);
  }

  addController(controller: ReactiveController): void {
    this.#controllers.push(controller);
  }

  removeController(): void {}

  requestUpdate(): void {
    this.renders++;
  }

  connect(): void {
    for (const controller of this.#controllers) controller.hostConnected?.();
  }

  disconnect(): void {
    for (const controller of this.#controllers) controller.hostDisconnected?.();
  }
}

const NAME: Context<string> = { none: 'nobody' };
const OTHER: Context<string> = { none: '' };

describe('a subject', () => {
  it('tells of each other value, and of none twice', () => {
    const subject = new Subject(1);
    const told: (readonly [number, number])[] = [];
    const stop = subject.subscribe((value, before) => told.push([value, before]));
    subject.set(1);
    subject.set(2);
    subject.set(2);
    stop();
    subject.set(3);
    expect(told).toEqual([[2, 1]]);
    expect(subject.value).toBe(3);
  });
});

describe('a context', () => {
  it('reaches what stands in its provider, the nearest one first', () => {
    const page = new Part();
    const inner = new Part(page);
    const part = new Part(inner);
    provide(page, NAME, new Subject('page'));
    const consumer = new Consumer(part, NAME);
    part.connect();
    expect(consumer.value).toBe('page');
    part.disconnect();
    provide(inner, NAME, new Subject('inner'));
    part.connect();
    expect(consumer.value).toBe('inner');
  });

  it('renders its consumer once for each other value, told before; one that comes back is told anew', () => {
    const page = new Part();
    const part = new Part(page);
    const subject = new Subject('first');
    provide(page, NAME, subject);
    const told: string[] = [];
    new Consumer(part, NAME, (value, before) => told.push(`${before} ${value} ${part.renders}`));
    part.connect();
    subject.set('second');
    subject.set('second');
    expect(told).toEqual(['nobody first 0', 'first second 1']);
    expect(part.renders).toBe(2);
    part.disconnect();
    subject.set('third');
    expect(part.renders).toBe(2);
    part.connect();
    expect(told.at(-1)).toBe('nobody third 2');
  });

  it('holds what stands for nothing where nobody provides it', () => {
    const page = new Part();
    const part = new Part(page);
    provide(page, OTHER, new Subject('other'));
    const consumer = new Consumer(part, NAME);
    part.connect();
    expect(consumer.value).toBe('nobody');
    expect(part.renders).toBe(0);
  });
});
