/** Values that come from outside, read as the JSON that they stand for: own fields, no holes, nothing inherited. */

/** Own fields of an object, without a prototype, so that nothing but them is read. */
export type Fields = Readonly<Record<string, unknown>>;

/**
 * The own fields of a plain object; null for a list, for null and for an object of a class: one that inherits from more than the root of
 * all objects may answer for fields that no file holds. O(fields). Rule P32.
 */
export function plainFields(value: unknown): Fields | null {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return null;
  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype !== null && Object.getPrototypeOf(prototype) !== null) return null;
  const fields: Record<string, unknown> = Object.create(null);
  for (const name of Object.keys(value)) fields[name] = (value as Fields)[name];
  return fields;
}

/** Whether a value is a list of which everything is its own, but for holes: those read as undefined. Rule P32. */
export function isPlainList(value: unknown): value is readonly unknown[] {
  return Array.isArray(value) && Array.isArray(Object.getPrototypeOf(value));
}
