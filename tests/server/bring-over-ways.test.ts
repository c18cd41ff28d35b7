/** The two ways of bringing a copy over, repeating and merging, on the same draws: where they differ, and what each loses. */
import { isDeepStrictEqual } from 'node:util';
import { expect, test } from 'vitest';
import { changeKey, compareDesigns, mergeDesigns } from '../../engine/document/index.ts';
import { bringOver } from '../../server/sync/bring-over.ts';
import { mergeOver } from '../../server/sync/merge-over.ts';
import { countingIds } from '../support/sample-board.ts';
import { copyOf, draw, keyed, shows, sorted, work } from './three-designs.ts';

const WAYS = { repeated: bringOver, merged: mergeOver };
type Way = keyof typeof WAYS;

test('10,000 draws: every difference, counted', () => {
  const counts = new Map<string, number>();
  const note = (what: string): void => void counts.set(what, (counts.get(what) ?? 0) + 1);
  for (let seed = 1; seed <= 10_000; seed += 1) {
    const { random, base, mine, into, isQuiet } = draw(seed);
    const [was, copy, present] = [keyed(base), keyed(mine), keyed(into)];
    const later = copyOf(mine, 5);
    work(random, later, 1 + random.below(5), false);
    const end = (way: Way) => {
      const doc = copyOf(into, 6);
      const { refused } = WAYS[way](base, mine, doc, countingIds('n'));
      const after = keyed(doc);
      const lost = (side: typeof copy): string[] =>
        compareDesigns(was, side)
          // Repeating gives new pairs other ids, so only places in old ones are looked for.
          .filter((edit) => edit.kind !== 'rows-added' && edit.kind !== 'strings-added')
          .filter((edit) => !shows(after, edit))
          .map(changeKey);
      if (refused.length === 0 && lost(copy).length > 0) note(`${way}: an edit of the copy is nowhere`);
      if (lost(present).length > 0) note(`${way}: an edit of others is gone`);
      if (isQuiet && !isDeepStrictEqual(sorted(after.board), sorted(copy.board)))
        note(`${way}: not as the copy, though nobody else edited`);
      const isKept = refused.length > 0;
      const again = WAYS[way](mine, later, doc, countingIds('o'));
      if (isQuiet && again.refused.length === 0) {
        const same = isDeepStrictEqual(sorted(keyed(doc).board), sorted(keyed(later).board));
        if (!same) note(`${way}: what the copy did later is not there, though nobody else edited`);
      }
      return { board: sorted(after.board), isKept };
    };
    const [old, next] = [end('repeated'), end('merged')];
    const parts = Object.keys(old.board) as (keyof typeof old.board)[];
    const differing = parts.filter((part) => !isDeepStrictEqual(old.board[part], next.board[part]));
    if (isQuiet) note('nobody else edited');
    const isSame = differing.length === 0 && old.isKept === next.isKept;
    const { conflicts } = mergeDesigns(was, present, copy);
    if (isSame) note('same board, same copy kept');
    else if (conflicts.length > 0) {
      note('differs: both edited the same');
      for (const why of new Set(conflicts.map((one) => `${one.why} ${one.changes[0].kind}`)))
        note(`- ${why}`);
    } else if (differing.length === 0) note(`differs: kept ${old.isKept}, then ${next.isKept}`);
    else note(`differs: ${differing.join(', ')}${old.isKept === next.isKept ? '' : ', and what is kept'}`);
  }
  expect(Object.fromEntries(counts)).toEqual({
    '- both-changed colour': 51,
    '- both-changed colourway': 3,
    '- both-changed colourway-colour': 2,
    '- both-changed extent': 45,
    '- both-changed gauge': 56,
    '- both-changed knot': 629,
    '- both-changed palette-order': 13,
    '- both-changed pattern': 419,
    '- both-changed piece': 26,
    '- both-changed string-colour': 149,
    '- both-changed title': 51,
    '- ours-removed colour-added': 65,
    '- ours-removed colourway-added': 1,
    '- ours-removed rows-added': 603,
    '- ours-removed strings-added': 467,
    '- theirs-removed colour-removed': 151,
    '- theirs-removed colourway-removed': 2,
    '- theirs-removed rows-removed': 586,
    '- theirs-removed strings-removed': 503,
    'differs: both edited the same': 2970,
    'differs: colourways': 1,
    'differs: kept true, then false': 20,
    'differs: palette': 26,
    'differs: palette, pattern, and what is kept': 1,
    'differs: palette, pattern, colourways, and what is kept': 2,
    'differs: pattern': 60,
    'differs: pattern, and what is kept': 4,
    'differs: piece': 18,
    'differs: title, palette, pattern, piece, and what is kept': 2,
    'differs: title, palette, pattern, piece, colourways, and what is kept': 1,
    'differs: title, palette, pattern, piece, gauge, and what is kept': 1,
    'merged: an edit of others is gone': 9,
    'merged: what the copy did later is not there, though nobody else edited': 7,
    'nobody else edited': 2001,
    'repeated: an edit of others is gone': 1960,
    'repeated: an edit of the copy is nowhere': 1108,
    'repeated: not as the copy, though nobody else edited': 1,
    'repeated: what the copy did later is not there, though nobody else edited': 424,
    'same board, same copy kept': 6894,
  });
});
