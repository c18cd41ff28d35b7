/** What an update deletes without putting anything in its place: entries of lists, as commands do it, and keys, as none does. */
import type * as Y from 'yjs';
import type { Deletions } from './freed-bytes.ts';

type Struct = Y.Item | Y.GC | Y.Skip;
type Range = { readonly clock: number; readonly len: number };

const NONE: Deletions = new Map();

/**
 * The deletions of an update, save those of what one of its structs stands right behind: so it is where a key gets another value. What was
 * deleted before may be among them.
 * O(structs + deleted ranges); a range of more than all the structs stand behind is taken whole.
 */
export function removedOf(structs: readonly Struct[], deletions: Deletions): Deletions {
  if (deletions.size === 0 || isOneReplaced(structs, deletions)) return NONE;
  const behind = clocksBehind(structs);
  const removed = new Map<number, readonly Range[]>();
  for (const [client, ranges] of deletions) {
    const replaced = behind.get(client);
    const left = replaced === undefined ? ranges : ranges.flatMap((range) => without(range, replaced));
    if (left.length > 0) removed.set(client, left);
  }
  return removed;
}

/** Whether it is one value in the place of another, as nearly all edits are; without anything to be kept for it. */
function isOneReplaced(structs: readonly Struct[], deletions: Deletions): boolean {
  const struct = structs[0];
  if (structs.length !== 1 || deletions.size > 1 || struct === undefined || !('origin' in struct))
    return false;
  const ranges = deletions.get(struct.origin?.client ?? -1);
  return ranges?.length === 1 && ranges[0]!.len === 1 && ranges[0]!.clock === struct.origin?.clock;
}

/** What structs stand behind, by client. */
function clocksBehind(structs: readonly Struct[]): ReadonlyMap<number, ReadonlySet<number>> {
  const behind = new Map<number, Set<number>>();
  for (const struct of structs) {
    const origin = 'origin' in struct ? struct.origin : null;
    if (origin === null) continue;
    const clocks = behind.get(origin.client);
    if (clocks === undefined) behind.set(origin.client, new Set([origin.clock]));
    else clocks.add(origin.clock);
  }
  return behind;
}

function without({ clock, len }: Range, replaced: ReadonlySet<number>): readonly Range[] {
  if (len > replaced.size) return [{ clock, len }];
  const left: { clock: number; len: number }[] = [];
  for (let at = clock; at < clock + len; at += 1) {
    if (replaced.has(at)) continue;
    const last = left.at(-1);
    if (last !== undefined && last.clock + last.len === at) last.len += 1;
    else left.push({ clock: at, len: 1 });
  }
  return left;
}
