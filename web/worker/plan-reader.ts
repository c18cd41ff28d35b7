/** Plans for an element: it is drawn anew when they come, and asks for nothing once it has left the page. */
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { MountPlan } from '../../engine/index.ts';
import {
  type Mounted,
  type PendingPlan,
  type PlanState,
  type PlanWatch,
  planShelf,
  type StateOf,
} from './plan-shelf.ts';

/** Plans of several boards. */
export type AllPlans =
  | PendingPlan
  | { readonly kind: 'found'; readonly planOf: (board: Mounted) => MountPlan };

export class PlanReader implements ReactiveController {
  readonly #watch: PlanWatch;
  readonly #host: ReactiveControllerHost;
  #isHere = false;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    this.#watch = planShelf.watch(() => host.requestUpdate());
    host.addController(this);
  }

  hostConnected(): void {
    this.#isHere = true;
    // An element that comes back asks again.
    this.#host.requestUpdate();
  }

  hostDisconnected(): void {
    this.#isHere = false;
    this.#watch.end();
  }

  /** As {@link PlanWatch.read}. */
  read<T>(look: (stateOf: StateOf) => T): T {
    const found = this.#watch.read(look);
    // An element may be rendered once more after it has left.
    if (!this.#isHere) this.#watch.end();
    return found;
  }

  stateOf(board: Mounted): PlanState {
    return this.read((stateOf) => stateOf(board));
  }

  /** Once all are known, what gives the plan of each board; else the state of the first that is not. */
  all(boards: readonly Mounted[]): AllPlans {
    const states = this.read((stateOf) => boards.map(stateOf));
    const pending = states.find((state): state is PendingPlan => state.kind !== 'found');
    return pending ?? { kind: 'found', planOf: (board) => planShelf.foundOf(board) };
  }
}
