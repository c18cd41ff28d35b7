/** What comes in the body of a request, read the same way by every route. */
import type { Context, MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { HttpProblem } from './problem.ts';

/** Fields of a body, whose values are still to be checked one by one. */
export type Fields = Readonly<Record<string, unknown>>;

/** Answers 413 to a body above `maxBytes` before it is read whole. @param what what the body is, for the message: `a remark` */
export function limitBody(what: string, maxBytes: number): MiddlewareHandler {
  return bodyLimit({
    maxSize: maxBytes,
    onError: () => {
      throw new HttpProblem(413, {
        kind: 'too-large',
        message: `${what} has at most ${maxBytes} bytes`,
        values: { mostBytes: maxBytes },
      });
    },
  });
}

/** The JSON value in a body. @throws HttpProblem 400 `not-json` */
export async function readJson(c: Context): Promise<unknown> {
  const text = await c.req.text();
  try {
    return JSON.parse(text);
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    throw new HttpProblem(
      400,
      { kind: 'not-json', path: '', message: `the body is not JSON: ${cause.message}` },
      { cause },
    );
  }
}

/**
 * The fields of a body that is one JSON object.
 * @param allowed names of all fields there are
 * @throws HttpProblem 400 `not-json`, 422 `not-an-object` or `unknown-field`
 */
export async function readFields(c: Context, allowed: readonly string[]): Promise<Fields> {
  const value = await readJson(c);
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new HttpProblem(422, {
      kind: 'not-an-object',
      path: '',
      message: 'the body must be a JSON object',
    });
  for (const name of Object.keys(value))
    if (!allowed.includes(name))
      throw new HttpProblem(422, {
        kind: 'unknown-field',
        path: name,
        message: `there is no field ${name} here`,
      });
  return value as Fields;
}
