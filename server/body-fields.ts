/** Fields of a body that is one JSON object. Plain data out, so that a large body can be read in a thread. */

/** Fields of a body, whose values are still to be checked one by one. */
export type Fields = Readonly<Record<string, unknown>>;

export type FieldsFault =
  | { readonly kind: 'not-json'; readonly path: ''; readonly message: string }
  | { readonly kind: 'not-an-object'; readonly path: ''; readonly message: string }
  | { readonly kind: 'unknown-field'; readonly path: string; readonly message: string };

export type FieldsResult =
  | { readonly ok: true; readonly value: Fields }
  | { readonly ok: false; readonly error: FieldsFault };

/** The JSON value in a body. */
export function parseJson(
  text: string,
):
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly error: FieldsFault & { readonly kind: 'not-json' } } {
  try {
    return { ok: true, value: JSON.parse(text) as unknown };
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    const message = `the body is not JSON: ${cause.message}`;
    return { ok: false, error: { kind: 'not-json', path: '', message } };
  }
}

/** @param allowed names of all fields there are */
export function parseFields(text: string, allowed: readonly string[]): FieldsResult {
  const read = parseJson(text);
  if (!read.ok) return read;
  const { value } = read;
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    return {
      ok: false,
      error: { kind: 'not-an-object', path: '', message: 'the body must be a JSON object' },
    };
  const unknown = Object.keys(value).find((name) => !allowed.includes(name));
  if (unknown === undefined) return { ok: true, value: value as Fields };
  return {
    ok: false,
    error: { kind: 'unknown-field', path: unknown, message: `there is no field ${unknown} here` },
  };
}
