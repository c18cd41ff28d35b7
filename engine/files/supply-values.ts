/** Threads and parts as single values; `supplies.ts` reads them. Apart from that, since a page that only shows a board writes none. */
import type { Supplies, ThreadSupply } from '../pattern/index.ts';
import { PART_FIELDS, THREAD_FIELDS } from './fields.ts';
import { threadKey } from './supplies.ts';

/** What one key says. */
export type SupplyValue = string | number;

/** Key of what is said of a thread. */
export function threadValueKey(
  thread: Pick<ThreadSupply, 'hex' | 'name'>,
  field: keyof typeof THREAD_FIELDS,
): string {
  return `thread.${field}.${threadKey(thread)}`;
}

/** Key of what is said of a line of parts. */
export function partValueKey(id: string, field: keyof typeof PART_FIELDS): string {
  return `part.${field}.${id}`;
}

/** All that is said, by key, in the order of the lists. */
export function supplyValues(supplies: Supplies | undefined): ReadonlyMap<string, SupplyValue> {
  const values = new Map<string, SupplyValue>();
  for (const thread of supplies?.threads ?? [])
    for (const field of Object.keys(THREAD_FIELDS) as (keyof typeof THREAD_FIELDS)[])
      if (thread[field] !== undefined) values.set(threadValueKey(thread, field), thread[field]);
  for (const part of supplies?.parts ?? [])
    for (const field of Object.keys(PART_FIELDS) as (keyof typeof PART_FIELDS)[])
      if (part[field] !== undefined) values.set(partValueKey(part.id, field), part[field]);
  return values;
}
