/**
 * Values that an element hands to all that stands in it, however deep, past those that have no use for them.
 *
 * An element that wants one asks for it by an event when it comes into the page; the nearest that provides it answers with the subject.
 */
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Subject } from './subject.ts';

/** Names a value; providers and consumers of the same one meet. */
export interface Context<T> {
  /** What holds where nobody provides it. */
  readonly none: T;
}

class ContextRequest<T> extends Event {
  readonly context: Context<T>;
  answer: Subject<T> | null = null;

  constructor(context: Context<T>) {
    super('lb-context', { bubbles: true, composed: true });
    this.context = context;
  }
}

/** Whether this asks for the value of that context. */
function asksFor<T>(event: Event, context: Context<T>): event is ContextRequest<T> {
  return event instanceof ContextRequest && event.context === context;
}

/** Hands what the subject holds to all that stands in the element, from now on. */
export function provide<T>(host: EventTarget, context: Context<T>, subject: Subject<T>): void {
  host.addEventListener('lb-context', (event) => {
    if (!asksFor(event, context)) return;
    event.stopPropagation();
    event.answer = subject;
  });
}

/** Holds the value of a context for an element, which is rendered when it is another one. */
export class Consumer<T> implements ReactiveController {
  readonly #host: ReactiveControllerHost & EventTarget;
  readonly #context: Context<T>;
  readonly #onValue: (value: T, before: T) => void;
  #value: T;
  #stop: (() => void) | null = null;

  /**
   * @param onValue told of each other value before the element is rendered, and of the one that is there whenever the element comes into the
   * page; of `none` only after another one
   */
  constructor(
    host: ReactiveControllerHost & EventTarget,
    context: Context<T>,
    onValue: (value: T, before: T) => void = () => {},
  ) {
    this.#host = host;
    this.#context = context;
    this.#onValue = onValue;
    this.#value = context.none;
    host.addController(this);
  }

  get value(): T {
    return this.#value;
  }

  hostConnected(): void {
    this.#stop?.();
    const request = new ContextRequest(this.#context);
    this.#host.dispatchEvent(request);
    const subject = request.answer;
    this.#stop = subject?.subscribe((value) => this.#take(value)) ?? null;
    const { none } = this.#context;
    const value = subject === null ? none : subject.value;
    // What was made of the value of before has ended with the element's leaving.
    if (!Object.is(value, none)) this.#value = none;
    this.#take(value);
  }

  hostDisconnected(): void {
    this.#stop?.();
    this.#stop = null;
  }

  #take(value: T): void {
    const before = this.#value;
    if (Object.is(value, before)) return;
    this.#value = value;
    this.#onValue(value, before);
    this.#host.requestUpdate();
  }
}
