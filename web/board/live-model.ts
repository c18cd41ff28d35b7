/** The model of a design as it is now; how it mounts is added once it is known. */
import type { Board, Cell } from '../../engine/index.ts';
import { type PlanState, type PlanWatch, planShelf } from '../worker/index.ts';
import { type BoardModel, modelOf, withPlan } from './board-model.ts';

export class LiveModel {
  #model: BoardModel;
  readonly #plans: PlanWatch;

  /** @param onPlan the plan came, or will not come */
  constructor(board: Board, onPlan: () => void) {
    this.#plans = planShelf.watch(() => {
      const next = withPlan(this.#model, this.#stateOf(this.#model.board));
      if (next === this.#model) return;
      this.#model = next;
      onPlan();
    });
    this.#model = modelOf(board, null, null, this.#stateOf);
  }

  get model(): BoardModel {
    return this.#model;
  }

  /** As {@link modelOf}. */
  update(board: Board, changed: readonly Cell[] | null): void {
    this.#model = modelOf(board, this.#model, changed, this.#stateOf);
  }

  end(): void {
    this.#plans.end();
  }

  readonly #stateOf = (board: Board): PlanState => this.#plans.read((stateOf) => stateOf(board));
}
