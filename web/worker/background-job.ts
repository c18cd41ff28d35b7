/** One job at a time for an element: waits out edits, starts in a worker, ends when the element leaves the page. */
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { t } from '../text/index.ts';
import type { Job, JobAnswers } from './jobs.ts';
import { JobError, type RunningJob, startJob } from './start-job.ts';

export type JobState<A> =
  | { readonly kind: 'idle' }
  /** `best`: the best answer so far, null where there is none before the end. */
  | { readonly kind: 'looking'; readonly share: number; readonly best: A | null }
  | { readonly kind: 'found'; readonly answer: A }
  | { readonly kind: 'failed'; readonly why: string };

/** An edit is waited out before a search begins anew. */
const WAIT_MS = 300;

export class BackgroundJob<J extends Job> implements ReactiveController {
  #state: JobState<JobAnswers[J['kind']]> = { kind: 'idle' };
  #running: RunningJob<JobAnswers[J['kind']]> | null = null;
  #wait: ReturnType<typeof setTimeout> | undefined;
  readonly #host: ReactiveControllerHost;
  readonly #onState: () => void;

  /** @param onState called at each other state, before the element is rendered */
  constructor(host: ReactiveControllerHost, onState: () => void = () => {}) {
    this.#host = host;
    this.#onState = onState;
    host.addController(this);
  }

  get state(): JobState<JobAnswers[J['kind']]> {
    return this.#state;
  }

  /** Ends the job under way and begins this one, at once or after a pause without another call. */
  start(job: J, isAtOnce = false): void {
    this.#end();
    this.#set({ kind: 'looking', share: 0, best: null });
    this.#wait = setTimeout(() => this.#begin(job), isAtOnce ? 0 : WAIT_MS);
  }

  /** Takes an answer that was found without a worker. */
  settle(answer: JobAnswers[J['kind']]): void {
    this.#end();
    this.#set({ kind: 'found', answer });
  }

  cancel(): void {
    this.#end();
    this.#set({ kind: 'idle' });
  }

  /** Ends the job under way and keeps the best answer so far, if there is one. */
  stop(): void {
    const best = this.#state.kind === 'looking' ? this.#state.best : null;
    if (best === null) this.cancel();
    else this.settle(best);
  }

  hostDisconnected(): void {
    this.#end();
    this.#state = { kind: 'idle' };
  }

  #begin(job: J): void {
    const tell = (share: number, best: JobAnswers[J['kind']] | null): void => {
      if (this.#running === running) this.#set({ kind: 'looking', share, best });
    };
    const now = () => (this.#state.kind === 'looking' ? this.#state : { share: 0, best: null });
    const running: RunningJob<JobAnswers[J['kind']]> = startJob(
      job,
      (share) => tell(share, now().best),
      (best) => tell(now().share, best),
    );
    this.#running = running;
    const isLatest = (): boolean => this.#running === running;
    running.answer.then(
      (answer) => {
        if (!isLatest()) return;
        this.#running = null;
        this.#set({ kind: 'found', answer });
      },
      (error: unknown) => {
        if (!isLatest()) return;
        this.#running = null;
        if (!(error instanceof JobError)) throw error;
        this.#set({ kind: 'failed', why: t(`error.${error.kind}`) });
        // What the engine threw is for whoever looks at the console.
        if (error.kind === 'broke') reportError(error);
      },
    );
  }

  #set(state: JobState<JobAnswers[J['kind']]>): void {
    this.#state = state;
    this.#onState();
    this.#host.requestUpdate();
  }

  #end(): void {
    clearTimeout(this.#wait);
    this.#running?.cancel();
    this.#running = null;
  }
}
