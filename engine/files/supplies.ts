/**
 * Threads and parts out of single values, each under a key of its own. So a document keeps them, and so they are compared and merged: of one
 * thread one maker may write the price and another what is at home.
 *
 * `thread.<field>.<#rrggbb>.<name>` and `part.<field>.<id>`; names and ids may hold anything, and come last. `supply-values.ts` makes keys.
 */
import { demandOfText, type Supplies, type ThreadSupply } from '../pattern/index.ts';
import { demandOf, type FieldRule, PART_FIELDS, THREAD_FIELDS } from './fields.ts';
import { HEX_PATTERN, MAX_ID_CHARACTERS, MAX_NAME_CHARACTERS, MAX_PARTS, MAX_THREADS } from './limits.ts';

/** Parts of a key. */
type SupplyKeyParts =
  | {
      readonly of: 'thread';
      readonly field: keyof typeof THREAD_FIELDS;
      readonly hex: string;
      readonly name: string;
    }
  | { readonly of: 'part'; readonly field: keyof typeof PART_FIELDS; readonly id: string };

const HEX = new RegExp(HEX_PATTERN);

/** What tells a thread from others: its colour and its name. */
export function threadKey({ hex, name }: Pick<ThreadSupply, 'hex' | 'name'>): string {
  return `${hex}.${name}`;
}

/** What a key speaks of; null when it is none. Of one thing there is one key: colours stand in lower case. */
export function readSupplyKey(key: string): SupplyKeyParts | null {
  const [of, field = ''] = key.split('.', 2);
  const rest = key.slice(`${of}.${field}.`.length);
  if (of === 'part' && Object.hasOwn(PART_FIELDS, field))
    return rest.length >= 1 && rest.length <= MAX_ID_CHARACTERS && demandOfText(rest) === null
      ? { of, field: field as keyof typeof PART_FIELDS, id: rest }
      : null;
  if (of !== 'thread' || !Object.hasOwn(THREAD_FIELDS, field)) return null;
  const [hex, name] = [rest.slice(0, 7), rest.slice(8)];
  if (!HEX.test(hex) || hex !== hex.toLowerCase() || rest[7] !== '.') return null;
  if (name.length > MAX_NAME_CHARACTERS || demandOfText(name) !== null) return null;
  return { of, field: field as keyof typeof THREAD_FIELDS, hex, name };
}

/** What the value under a key may be. */
function supplyRule(parts: SupplyKeyParts): FieldRule {
  return parts.of === 'thread' ? THREAD_FIELDS[parts.field] : PART_FIELDS[parts.field];
}

/** The lists that values make, and which of them were left out. */
interface GatheredSupplies {
  /** Absent where there is nothing in them. */
  readonly supplies?: Supplies;
  /** Keys of values that are none under their key. */
  readonly unreadable: readonly string[];
  /** Threads and parts beyond what a board may hold. */
  readonly beyond: number;
}

/**
 * Threads and parts of all values, however they stand: of too many the first count. Keys that are none are left out without a word.
 * O(values log values).
 */
export function gatherSupplies(values: Iterable<readonly [string, unknown]>): GatheredSupplies {
  const threads = new Map<string, Record<string, unknown>>();
  const parts = new Map<string, Record<string, unknown>>();
  const unreadable: string[] = [];
  for (const [key, value] of values) {
    const read = readSupplyKey(key);
    if (read === null || value === null || value === undefined) continue;
    if (demandOf(supplyRule(read), value) !== null) {
      unreadable.push(key);
      continue;
    }
    if (read.of === 'thread') {
      const id = threadKey(read);
      const thread = threads.get(id) ?? { hex: read.hex, name: read.name };
      threads.set(id, thread);
      thread[read.field] = value;
    } else {
      const part = parts.get(read.id) ?? { id: read.id };
      parts.set(read.id, part);
      part[read.field] = value;
    }
  }
  if (threads.size + parts.size === 0) return { unreadable, beyond: 0 };
  const supplies = {
    threads: inOrder(threads, MAX_THREADS),
    parts: inOrder(parts, MAX_PARTS),
  };
  const beyond = threads.size + parts.size - supplies.threads.length - supplies.parts.length;
  return { supplies: supplies as unknown as Supplies, unreadable, beyond };
}

/** By key; fields stand in one order too, so that what says the same is spelled the same. */
function inOrder(found: ReadonlyMap<string, Record<string, unknown>>, most: number): readonly object[] {
  return [...found]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .slice(0, most)
    .map(([, one]) => Object.fromEntries(Object.entries(one).sort()));
}
