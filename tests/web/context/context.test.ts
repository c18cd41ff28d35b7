/** Values handed down to what stands in an element. */
import type { ReactiveController } from 'lit';
import { describe, expect, it } from 'vitest';
import { Consumer, type Context, provide, Subject, Subscriptions } from '../../../web/context/index.ts';

/** An element as a consumer sees one: it hears from its controllers, and its events go up to its parent too. */
class Part extends EventTarget {
  readonly updateComplete = Promise.resolve(true);
  #parent: EventTarget | null;
  readonly #controllers: ReactiveController[] = [];
  renders = 0;
  isConnected = false;

  constructor(parent: EventTarget | null = null) {
    super();
    this.#parent = parent;
  }

  moveTo(parent: EventTarget): void {
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
    this.isConnected = true;
    for (const controller of this.#controllers) controller.hostConnected?.();
  }

  disconnect(): void {
    this.isConnected = false;
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

  it('tells all of the latest last, also where one of them sets it anew', () => {
    const subject = new Subject(0);
    const told: string[] = [];
    subject.subscribe((value) => {
      told.push(`first ${value}`);
      if (value === 1) subject.set(2);
      if (value === 2) subject.set(1.5);
    });
    subject.subscribe((value) => told.push(`second ${value}`));
    subject.set(1);
    expect(told).toEqual(['first 1', 'first 2', 'first 1.5', 'second 1.5']);
    expect(subject.value).toBe(1.5);
  });

  it('tells nobody of a value anew that was set back meanwhile', () => {
    const subject = new Subject('calm');
    const told: string[] = [];
    let isFirst = true;
    subject.subscribe((value) => {
      if (!isFirst) return;
      isFirst = false;
      subject.set('other');
      subject.set(value);
    });
    subject.subscribe((value, before) => told.push(`${before} ${value}`));
    subject.set('wish');
    expect(told).toEqual(['wish other', 'other wish']);
  });

  it('tells no more who has stopped listening, while it tells the others too', () => {
    const subject = new Subject(0);
    const told: string[] = [];
    const stops: (() => void)[] = [];
    subject.subscribe(() => {
      for (const stop of stops) stop();
    });
    stops.push(subject.subscribe(() => told.push('gone')));
    subject.set(1);
    expect(told).toEqual([]);
  });

  it('takes the same listener twice, and lets it go once at a time', () => {
    const subject = new Subject(0);
    let told = 0;
    const listen = (): void => {
      told += 1;
    };
    const stop = subject.subscribe(listen);
    subject.subscribe(listen);
    subject.set(1);
    stop();
    stop();
    subject.set(2);
    expect(told).toBe(3);
  });
});

describe('subscriptions', () => {
  it('end with others that are kept, and when the element leaves the page', () => {
    const part = new Part();
    const subscriptions = new Subscriptions(part);
    const subject = new Subject(0);
    const told: string[] = [];
    part.connect();
    subscriptions.keep(subject.subscribe((value) => told.push(`first ${value}`)));
    subject.set(1);
    subscriptions.keep(subject.subscribe((value) => told.push(`second ${value}`)));
    subject.set(2);
    part.disconnect();
    subject.set(3);
    expect(told).toEqual(['first 1', 'second 2']);
  });

  it('begin none out of the page, where an element may be rendered once more', () => {
    const part = new Part();
    const subscriptions = new Subscriptions(part);
    const subject = new Subject(0);
    let told = 0;
    const listen = (): void => {
      told += 1;
    };
    part.connect();
    part.disconnect();
    subscriptions.keep(subject.subscribe(listen));
    subject.set(1);
    expect(told).toBe(0);
    part.connect();
    subscriptions.keep(subject.subscribe(listen));
    subject.set(2);
    expect(told).toBe(1);
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

  it('renders and tells an element that comes to where nobody provides it, or where it is nothing', () => {
    const [page, empty, bare] = [new Part(), new Part(), new Part()];
    provide(page, NAME, new Subject('page'));
    provide(empty, NAME, new Subject(NAME.none));
    for (const elsewhere of [empty, bare]) {
      const part = new Part(page);
      const told: string[] = [];
      const consumer = new Consumer(part, NAME, (value, before) => told.push(`${before} ${value}`));
      part.connect();
      part.disconnect();
      part.moveTo(elsewhere);
      part.connect();
      expect(consumer.value).toBe('nobody');
      expect(told).toEqual(['nobody page', 'page nobody']);
      expect(part.renders).toBe(2);
    }
  });

  it('is subscribed to once, however often the element is told that it is in the page', () => {
    const page = new Part();
    const part = new Part(page);
    const subject = new Subject('first');
    provide(page, NAME, subject);
    const told: string[] = [];
    new Consumer(part, NAME, (value) => told.push(value));
    part.connect();
    part.connect();
    subject.set('second');
    expect(told).toEqual(['first', 'first', 'second']);
    part.disconnect();
    subject.set('third');
    expect(told).toHaveLength(3);
  });

  it('of two pages stays in each', () => {
    const pages = ['one', 'two'].map((name) => ({ page: new Part(), subject: new Subject(name) }));
    const parts = pages.map(({ page, subject }) => {
      provide(page, NAME, subject);
      const part = new Part(page);
      const consumer = new Consumer(part, NAME);
      part.connect();
      return { part, consumer };
    });
    pages[0]!.subject.set('other');
    expect(parts.map(({ consumer }) => consumer.value)).toEqual(['other', 'two']);
    expect(parts.map(({ part }) => part.renders)).toEqual([2, 1]);
  });
});
