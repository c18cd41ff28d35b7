/** What comes in the body of a request, read the same way by every route. */
import type { Context, MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { type Fields, type FieldsFault, parseFields, parseJson } from '../body-fields.ts';
import { HttpProblem } from './problem.ts';

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
  const read = parseJson(await c.req.text());
  return read.ok ? read.value : refuseFields(read.error);
}

/**
 * The fields of a body that is one JSON object.
 * @param allowed names of all fields there are
 * @throws HttpProblem 400 `not-json`, 422 `not-an-object` or `unknown-field`
 */
export async function readFields(c: Context, allowed: readonly string[]): Promise<Fields> {
  const read = parseFields(await c.req.text(), allowed);
  return read.ok ? read.value : refuseFields(read.error);
}

function refuseFields(fault: FieldsFault): never {
  throw new HttpProblem(fault.kind === 'not-json' ? 400 : 422, fault);
}
