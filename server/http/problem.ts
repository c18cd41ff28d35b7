/** Errors as the HTTP side says them: `{error: {kind, path?, message}}`. */
import type { Context } from 'hono';

export interface Problem {
  readonly kind: string;
  /** Which field, such as `rows[3]`; absent when it is about the request as a whole. */
  readonly path?: string;
  readonly message: string;
}

export type ProblemStatus = 400 | 403 | 404 | 409 | 413 | 422 | 429 | 500 | 503 | 507;

/** A refusal on its way to `onError`, which turns it into the answer. */
export class HttpProblem extends Error {
  readonly status: ProblemStatus;
  readonly problem: Problem;

  constructor(status: ProblemStatus, problem: Problem, options?: ErrorOptions) {
    super(problem.message, options);
    this.status = status;
    this.problem = problem;
  }
}

/** The answer that carries a problem. */
export function answerProblem(c: Context, status: ProblemStatus, problem: Problem): Response {
  return c.json({ error: problem }, status);
}
