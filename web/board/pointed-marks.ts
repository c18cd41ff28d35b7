/** Marks the entries of an element that speak of what is pointed at on the board, without a render. */
import type { ReactiveController, ReactiveElement } from 'lit';
import { type Subject, Subscriptions } from '../context/index.ts';
import type { Pointed } from './events.ts';

/**
 * Entries say what they speak of: `data-strings="3 8"` strings by their place at the top, `data-knots="4:2 4:5"` knots as row and knot.
 * O(entries).
 */
export class PointedMarks implements ReactiveController {
  readonly #host: ReactiveElement;
  #pointed: Subject<Pointed | null> | null = null;
  readonly #subscriptions: Subscriptions;

  constructor(host: ReactiveElement) {
    this.#host = host;
    this.#subscriptions = new Subscriptions(host);
    host.addController(this);
  }

  /** Marks what this holds from now on; null = nothing. */
  follow(pointed: Subject<Pointed | null> | null): void {
    this.#subscriptions.keep();
    this.#pointed = pointed;
    if (pointed !== null) this.#subscriptions.keep(pointed.subscribe(() => this.#mark()));
  }

  hostUpdated(): void {
    this.#mark();
  }

  #mark(): void {
    const at = this.#pointed?.value ?? null;
    for (const entry of this.#host.renderRoot.querySelectorAll<HTMLElement>('[data-strings], [data-knots]')) {
      const { strings, knots } = entry.dataset;
      const isMeant =
        at !== null &&
        (strings?.split(' ').some((place) => place === String(at.left) || place === String(at.right)) ||
          knots?.split(' ').includes(`${at.row}:${at.k}`));
      entry.classList.toggle('pointed', isMeant === true);
    }
  }
}
