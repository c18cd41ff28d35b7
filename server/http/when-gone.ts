import type { ServerResponse } from 'node:http';
import type { Context } from 'hono';

/**
 * Calls when the answer has gone out, or the line is cut.
 * @returns false where there is no line, as where a test asks the app itself; then nothing is called
 */
export function whenGone(c: Context, call: () => void): boolean {
  const { outgoing } = (c.env ?? {}) as { readonly outgoing?: ServerResponse };
  if (outgoing === undefined) return false;
  if (outgoing.closed || outgoing.destroyed) call();
  else outgoing.once('close', call);
  return true;
}
