/** Which threads are one. Rule L72. */
import { threadKey } from '../files/index.ts';
import type { ThreadSupply } from '../pattern/index.ts';

/** A thread as it is named on the board or in a colourway. */
export type ThreadName = Pick<ThreadSupply, 'hex' | 'name'>;

/** A thread that goes by its code has no name. */
export function namedThread(hex: string, name: string): ThreadName {
  return { hex, name: name === hex ? '' : name };
}

/**
 * By which thread each is bought: of threads that the maker says are one, the one that the others are said to be. One without a name is the
 * one named thread of its colour, where there is just one.
 * @param used     threads of the pieces
 * @param supplies what the maker says of threads
 * @returns for a key by `threadKey` the key of the thread that stands for it
 * O(threads), but for chains of threads that are each said to be another.
 */
export function joinThreads(
  used: readonly ThreadName[],
  supplies: readonly ThreadSupply[],
): (key: string) => string {
  const said = new Map<string, string>();
  for (const thread of supplies) if (thread.sameAs !== undefined) said.set(threadKey(thread), thread.sameAs);
  const named = new Map<string, Set<string>>();
  for (const thread of [...used, ...supplies])
    if (thread.name !== '')
      named.set(thread.hex, (named.get(thread.hex) ?? new Set()).add(threadKey(thread)));
  for (const { hex } of named.size === 0 ? [] : used) {
    const [only, ...others] = named.get(hex) ?? [];
    const nameless = threadKey({ hex, name: '' });
    if (only !== undefined && others.length === 0 && !said.has(nameless)) said.set(nameless, only);
  }
  return (key) => {
    const seen = new Set<string>();
    let at = key;
    for (let next = said.get(at); next !== undefined && !seen.has(at); next = said.get(at)) {
      seen.add(at);
      at = next;
    }
    // Of threads said to be one in a ring the first stands for all.
    return seen.has(at) ? [...ringFrom(at, said)].sort()[0]! : at;
  };
}

function ringFrom(start: string, said: ReadonlyMap<string, string>): readonly string[] {
  const ring = [start];
  for (let at = said.get(start)!; at !== start; at = said.get(at)!) ring.push(at);
  return ring;
}

/** Colour and name of a thread by its key. */
export function threadOfKey(key: string): ThreadName {
  return { hex: key.slice(0, 7), name: key.slice(8) };
}
