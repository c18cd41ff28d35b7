/** Holds decoded structs against the table of what a document is made of. Reads them once; nothing is applied. */
import * as Y from 'yjs';
import {
  type BoardPart,
  IDENTITY_ROOT,
  isAdmitted,
  type RootRule,
  ruleOf,
} from '../../engine/document/index.ts';
import type { Present, Run } from './reach.ts';

/** Where structs stand; or which of them no document holds, and why. */
export type Admission =
  | { readonly ok: true; readonly rules: readonly RootRule[] }
  | { readonly ok: false; readonly message: string };

type Struct = Y.Item | Y.GC | Y.Skip;

function refuse({ id }: Struct, why: string): Admission & { readonly ok: false } {
  return { ok: false, message: `struct ${id.client}:${id.clock} ${why}` };
}

/**
 * Whether each struct may stand where it does.
 * @param structs of one update, none of which lacks anything that it builds on; each client's in one stretch
 * @param isOwn whether a struct is the server's own, which says the document's name
 * O(structs + values), with a search where a struct builds on one that is not right before it.
 */
export function admitStructs(
  part: BoardPart,
  structs: readonly Struct[],
  present: Present,
  isOwn: (item: Y.Item) => boolean,
): Admission {
  const found = rootsOf(part, structs, present);
  if (!found.ok) return found;
  for (let i = 0; i < structs.length; i += 1) {
    const item = structs[i] as Y.Item;
    const rule = found.rules[i]!;
    const fault =
      rule.root === IDENTITY_ROOT
        ? isOwn(item)
          ? null
          : 'would say what the server alone says'
        : (faultOfPlace(item, rule) ?? faultOfContent(item.content, rule));
    if (fault !== null) return refuse(item, fault);
  }
  return found;
}

/** What {@link admitStructs} found, as it is kept beside a document that reaches so far. O(structs). */
export function runsOf(
  structs: readonly Struct[],
  rules: readonly RootRule[],
  present: Present,
): readonly Run[] {
  const runs: Run[] = [];
  let last: Run | undefined;
  for (let i = 0; i < structs.length; i += 1) {
    const { id, length } = structs[i]!;
    const rule = rules[i]!;
    if (id.clock + length <= present.clockOf(id.client)) continue;
    if (last?.client === id.client && last.rule === rule) continue;
    last = { client: id.client, clock: id.clock, rule };
    runs.push(last);
  }
  return runs;
}

function faultOfPlace(item: Y.Item, rule: RootRule): string | null {
  // The decoder gives the name of a root as parent, though the type says otherwise; then the key stands beside it.
  const isNamed = typeof (item.parent as unknown) === 'string';
  if (rule.mostKey === null)
    return isNamed && item.parentSub !== null ? `has a key in the list ${rule.root}` : null;
  // Values of a key follow each other and never stand before one.
  if (item.rightOrigin !== null) return `stands before a value of ${rule.root}`;
  if (!isNamed) return null;
  if (item.parentSub === null) return `has no key in ${rule.root}`;
  return item.parentSub.length <= rule.mostKey ? null : `has too long a key in ${rule.root}`;
}

function faultOfContent(content: Y.Item['content'], rule: RootRule): string | null {
  if (content instanceof Y.ContentDeleted) return null;
  if (!(content instanceof Y.ContentAny)) return `is ${content.constructor.name} in ${rule.root}`;
  for (const value of content.arr)
    if (!isAdmitted(rule.values, value)) return `has a value that ${rule.root} does not hold`;
  return null;
}

/** Where the structs of each client begin and end in an update. */
type Stretches = ReadonlyMap<number, readonly [from: number, to: number]>;

function stretchesOf(structs: readonly Struct[]): Stretches {
  const stretches = new Map<number, [number, number]>();
  for (let i = 0; i < structs.length; i += 1) {
    const { client } = structs[i]!.id;
    const stretch = stretches.get(client);
    if (stretch === undefined) stretches.set(client, [i, i + 1]);
    else stretch[1] = i + 1;
  }
  return stretches;
}

/** Finds roots; where a struct names none, through what it builds on, be that in the document or in the update. */
function rootsOf(part: BoardPart, structs: readonly Struct[], present: Present): Admission {
  const rules: (RootRule | undefined)[] = new Array(structs.length);
  let stretches: Stretches | null = null;
  /** The struct of the update that holds an id; -1 when the document holds it. */
  const indexOf = (id: Y.ID, near: number): number => {
    const before = structs[near - 1];
    if (before !== undefined && before.id.client === id.client && before.id.clock <= id.clock)
      return near - 1;
    stretches ??= stretchesOf(structs);
    const stretch = stretches.get(id.client);
    if (stretch === undefined || structs[stretch[0]]!.id.clock > id.clock) return -1;
    let [low, high] = [stretch[0], stretch[1] - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (structs[middle]!.id.clock <= id.clock) low = middle;
      else high = middle - 1;
    }
    return low;
  };
  const later: number[] = [];
  for (let i = 0; i < structs.length; i += 1) {
    const item = structs[i]!;
    if (!(item instanceof Y.Item)) return refuse(item, 'does not say where it stood');
    const parent = item.parent as unknown;
    const base = item.origin ?? item.rightOrigin;
    if (typeof parent === 'string') {
      rules[i] = ruleOf(part, parent);
      if (rules[i] === undefined)
        return refuse(item, `stands in ${JSON.stringify(parent.slice(0, 40))}, which ${part} lacks`);
    } else if (base === null) return refuse(item, 'stands within a shared type');
    else {
      rules[i] = present.rootAt(base.client, base.clock) ?? rules[indexOf(base, i)];
      if (rules[i] === undefined) later.push(i);
    }
  }
  for (const first of later) {
    const chain: number[] = [];
    const passed = new Set<number>();
    let i = first;
    while (rules[i] === undefined) {
      if (passed.has(i)) return refuse(structs[i]!, 'builds on itself in a circle');
      passed.add(i);
      chain.push(i);
      const { origin, rightOrigin } = structs[i] as Y.Item;
      i = indexOf((origin ?? rightOrigin)!, i);
      if (i < 0) return refuse(structs[first]!, 'builds on what is not there');
    }
    for (const one of chain) rules[one] = rules[i];
  }
  for (let i = 0; i < structs.length; i += 1) {
    const { id, origin, rightOrigin } = structs[i] as Y.Item;
    // Of a struct whose beginning the document holds, the rest goes on where that stands.
    const begun = present.rootAt(id.client, id.clock);
    if (begun !== undefined && begun !== rules[i]) return refuse(structs[i]!, 'goes on from another root');
    if (origin === null || rightOrigin === null) continue;
    const other = present.rootAt(rightOrigin.client, rightOrigin.clock) ?? rules[indexOf(rightOrigin, i)];
    if (other !== rules[i]) return refuse(structs[i]!, 'stands between two roots');
  }
  return { ok: true, rules: rules as RootRule[] };
}
