/**
 * An edit as bytes, for a store. Layout: 0x4c 0x45 ("LE"), the version as one byte, then one value as lib0 writes any:
 * `[changes, [lists, values, bases]]`, each change `[root, key, before, after]` and each place in a list `[behind, before, at]`.
 */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { isAdmitted, ruleOf } from '../admission.ts';
import { readBase } from '../base-knots.ts';
import {
  type Edit,
  type Held,
  isListRoot,
  type KeyChange,
  LIST_ROOTS,
  type ListPlace,
  MAP_ROOTS,
  type RootName,
} from './key-change.ts';

const MAGIC = [0x4c, 0x45] as const;
const VERSION = 1;

/** `other`: no edit, or one that could not be written; `newer`: of a later version. */
type StoredEdit =
  | { readonly ok: true; readonly edit: Edit }
  | { readonly ok: false; readonly error: { readonly kind: 'other' | 'newer' } };

/** An edit as bytes, as `readEdit` reads them. O(changes). Rule D315. */
export function encodeEdit({ changes, held }: Edit): Uint8Array {
  const plain = [
    changes.map(({ root, key, before, after }) =>
      isListRoot(root) ? [root, key, plainPlace(before), plainPlace(after)] : [root, key, before, after],
    ),
    [held.lists, held.values, held.bases],
  ];
  return encoding.encode((encoder) => {
    for (const byte of [...MAGIC, VERSION]) encoding.writeUint8(encoder, byte);
    encoding.writeAny(encoder, plain as unknown as encoding.AnyEncodable);
  });
}

function plainPlace(place: unknown): unknown {
  if (place === null) return null;
  const { behind, before, at } = place as ListPlace;
  return [behind, before, at];
}

/** Reads what {@link encodeEdit} wrote. Nothing is taken that a design document may not hold. */
export function readEdit(bytes: Uint8Array): StoredEdit {
  if (bytes.length < 4 || bytes[0] !== MAGIC[0] || bytes[1] !== MAGIC[1]) return other();
  if (bytes[2] !== VERSION) return { ok: false, error: { kind: bytes[2]! > VERSION ? 'newer' : 'other' } };
  let plain: unknown;
  try {
    plain = decoding.readAny(decoding.createDecoder(bytes.subarray(3)));
  } catch {
    // Lib0 throws errors of many kinds at bytes that end early.
    return other();
  }
  if (!isList(plain, 2) || !Array.isArray(plain[0]) || !isList(plain[1], 3)) return other();
  const changes: KeyChange[] = [];
  for (const one of plain[0]) {
    const change = readChange(one);
    if (change === null) return other();
    changes.push(change);
  }
  const [lists, values, bases] = plain[1];
  if (!isListOf(lists, isHeldList) || !isListOf(values, isHeldValue) || !isListOf(bases, isHeldBase))
    return other();
  const held = { lists, values, bases } as unknown as Held;
  return { ok: true, edit: { changes, held } };
}

function other(): StoredEdit {
  return { ok: false, error: { kind: 'other' } };
}

function readChange(value: unknown): KeyChange | null {
  if (!isList(value, 4)) return null;
  const [root, key, before, after] = value;
  if (typeof key !== 'string' || !isRoot(root)) return null;
  if (!isListRoot(root))
    return isValue(root, key, before) && isValue(root, key, after) ? { root, key, before, after } : null;
  if (!isEntry(root, key)) return null;
  const [from, to] = [readPlace(before), readPlace(after)];
  return from === undefined || to === undefined ? null : { root, key, before: from, after: to };
}

function readPlace(value: unknown): ListPlace | null | undefined {
  if (value === null) return null;
  if (!isList(value, 3)) return undefined;
  const [behind, before, at] = value;
  return typeof behind === 'string' && typeof before === 'string' && typeof at === 'number'
    ? { behind, before, at }
    : undefined;
}

function isRoot(value: unknown): value is RootName {
  return [...LIST_ROOTS, ...MAP_ROOTS].some((root) => root === value);
}

function isValue(root: RootName, key: string, value: unknown): boolean {
  const rule = ruleOf('design', root);
  if (rule === undefined || rule.mostKey === null || key.length > rule.mostKey) return false;
  return value === undefined || isAdmitted(rule.values, value);
}

function isEntry(root: RootName, entry: unknown): boolean {
  const rule = ruleOf('design', root);
  return rule !== undefined && rule.mostKey === null && isAdmitted(rule.values, entry);
}

function isHeldList(value: unknown): boolean {
  if (!isList(value, 2)) return false;
  const [root, entries] = value;
  return isRoot(root) && Array.isArray(entries) && entries.every((entry) => isEntry(root, entry));
}

function isHeldValue(value: unknown): boolean {
  if (!isList(value, 3)) return false;
  const [root, key, held] = value;
  return isRoot(root) && typeof key === 'string' && held !== undefined && isValue(root, key, held);
}

function isHeldBase(value: unknown): boolean {
  return (
    isList(value, 2) &&
    typeof value[0] === 'string' &&
    isValue('knots', value[0], value[1]) &&
    readBase(value[1]) !== null
  );
}

function isListOf(value: unknown, isOne: (one: unknown) => boolean): value is readonly unknown[] {
  return Array.isArray(value) && value.every(isOne);
}

function isList(value: unknown, length: number): value is readonly unknown[] {
  return Array.isArray(value) && value.length === length;
}
