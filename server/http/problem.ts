/**
 * Errors as the HTTP side says them: `{error: {kind, path?, message, values?, demand?, value?}}`. The message is for logs and for who writes
 * to the server; a page says `kind` in its own language, with `values`, or with what `demand` asks for.
 */
import type { Context } from 'hono';
import type { PlainProblemKind, ValuedProblem } from '../../engine/document/index.ts';
import type { BoardError } from '../../engine/index.ts';

export type Problem = ({ readonly kind: PlainProblemKind } | ValuedProblem) & {
  /** Which field, such as `rows[3]`; absent when it is about the request as a whole. */
  readonly path?: string;
  readonly message: string;
  readonly demand?: BoardError['demand'];
  readonly value?: string;
};

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
