/** Several edits of lists as one: where entries stood and stand, and what comes of it when all of them are taken back. */
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { longestCommon } from '../../../../engine/document/compare/index.ts';
import {
  changesOf,
  type Edit,
  foldEdits,
  NOTHING_HELD,
  takeBack,
} from '../../../../engine/document/journal/index.ts';
import { rootsOf } from '../../../../engine/document/schema.ts';
import { applyWrites } from '../../../../engine/document/writes.ts';
import { cases, firstSeed, seedFailed } from '../../../support/depth.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

/** A palette, which can be put in any order, and the edits that were made of it. */
function palette(...ids: readonly string[]) {
  const doc = new Y.Doc();
  const { paletteOrder: list } = rootsOf(doc);
  list.push(ids.map((id) => `b.${id}`));
  const edits: Edit[] = [];
  doc.on('afterTransaction', (transaction: Y.Transaction) => {
    if (transaction.changed.size > 0)
      edits.push({ changes: changesOf(transaction, rootsOf(doc)), held: NOTHING_HELD });
  });
  const shown = (): string => list.toArray().join(' ').replaceAll('b.', '');
  const become = (next: string): void =>
    doc.transact(() => {
      const wanted = next.split(' ').flatMap((id) => (id === '' ? [] : [`b.${id}`]));
      const entries = list.toArray() as string[];
      // A list knows nothing of moving: what is moved goes and comes.
      const stay = longestCommon(entries, wanted);
      for (let i = entries.length - 1; i >= 0; i--) if (!stay.has(entries[i]!)) list.delete(i);
      wanted.forEach((entry, i) => {
        if (!stay.has(entry)) list.insert(i, [entry]);
      });
    });
  const back = (edit: Edit): readonly unknown[] => {
    const { writes, kept } = takeBack(edit, doc);
    doc.transact(() => applyWrites(writes));
    return kept;
  };
  return { shown, become, back, edits };
}

test.each([
  ['stood beside what came meanwhile', ['a b c d', 'a x b c y d', 'a x y d']],
  ['stood beside what came and went again', ['a b c', 'a x b y c', 'a x y c', 'a c']],
  ['stood beside what was moved', ['m a c', 'a m c', 'a m']],
  ['came behind what went', ['a b', 'a b x', 'a x', 'x']],
  ['was moved beside what went', ['a m b c', 'b a m c', 'm c']],
  ['came back in another place', ['a b c d', 'a c d', 'a c d b', 'c d b']],
] as const)('[D304] [D364] an entry that %s comes back to its place', (_, [first, ...others]) => {
  const list = palette(...first.split(' '));
  for (const next of others) {
    list.become(next);
    expect(list.shown()).toBe(next);
  }
  expect(list.back(foldEdits(list.edits))).toEqual([]);
  expect(list.shown()).toBe(first);
});

test('[D304] [D364] so it is for any edits of a list, folded at once or some first and then all', () => {
  const seeds = cases(400, 20_000);
  for (let seed = firstSeed; seed < firstSeed + seeds; seed++) {
    const random = seededRandom(seed);
    const first = [...'abcdef'].slice(0, random.below(7));
    const list = palette(...first);
    let next = [...first];
    for (let step = 2 + random.below(6); step > 0; step--) {
      next = next.filter(() => random.chance(0.75));
      for (const id of 'abcdefghij') {
        if (random.chance(0.85)) continue;
        next = next.filter((other) => other !== id);
        next.splice(random.below(next.length + 1), 0, id);
      }
      list.become(next.join(' '));
      expect(list.shown()).toBe(next.join(' '));
    }
    const at = random.below(list.edits.length + 1);
    const parts = [list.edits.slice(0, at), list.edits.slice(at)].filter((part) => part.length > 0);
    const whole = random.chance(0.5) ? foldEdits(parts.map(foldEdits)) : foldEdits(list.edits);
    expect(list.back(whole), seedFailed(seed)).toEqual([]);
    expect(list.shown(), seedFailed(seed)).toBe(first.join(' '));
  }
});
