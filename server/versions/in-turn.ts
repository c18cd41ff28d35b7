/**
 * Work done one after the other, of which some must have been done before what follows it: where that fails, all behind it waits until
 * it was tried again and done.
 */
import { StoreError } from '../store/index.ts';

export interface TurnWork {
  /** Fulfils when it is done. Rejects as it does; then it is tried again with the next call. */
  done(): Promise<void>;
}

type Outcome = { readonly kind: 'done' | 'held up' } | { readonly kind: 'failed'; readonly cause: unknown };

export class InTurn {
  /** Whether all so far was done; never rejects. */
  #before: Promise<boolean> = Promise.resolve(true);

  /** Begins when it is its turn. What it rejects with is told to whoever asks for it. */
  work(act: () => Promise<void>): TurnWork {
    const run = (): Promise<Outcome> => {
      const outcome = this.#before.then(async (isFine): Promise<Outcome> => {
        if (!isFine) return { kind: 'held up' };
        try {
          await act();
          return { kind: 'done' };
        } catch (cause) {
          return { kind: 'failed', cause };
        }
      });
      this.#before = outcome.then(({ kind }) => kind === 'done');
      return outcome;
    };
    let attempt: Promise<Outcome> | null = run();
    return {
      done: async () => {
        let outcome = attempt === null ? null : await attempt;
        if (outcome === null || outcome.kind === 'held up') {
          // They are asked for in their order, so all before it was done since.
          this.#before = this.#before.then(() => true);
          attempt = run();
          outcome = await attempt;
        }
        if (outcome.kind !== 'failed') return;
        attempt = null;
        throw outcome.cause;
      },
    };
  }

  /** Does it when it is its turn, and only where nothing before it is held up. What follows does not need it. */
  async once(act: () => Promise<void>): Promise<void> {
    const running = this.#before.then(async (isFine) => {
      if (!isFine) throw new StoreError('unavailable', 'an earlier state is not kept yet');
      await act();
    });
    const before = this.#before;
    this.#before = running.then(
      () => true,
      () => before,
    );
    await running;
  }

  /** Fulfils when nothing is being done. */
  async idle(): Promise<void> {
    await this.#before;
  }
}
