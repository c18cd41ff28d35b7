import { describe, expect, it } from 'vitest';
import { mergeDesigns, readKeyed } from '../../../engine/document/index.ts';
import {
  changesOf,
  choose,
  chooseAll,
  conflictKey,
  isPart,
  openConflicts,
} from '../../../web/proposals/choice.ts';
import { branchOf } from '../../support/compared-pair.ts';
import { openDesign, runAll } from '../../support/open-design.ts';

/** A board and a proposal for it: a new colour on two strings, in place of one that goes; a knot that both changed. */
function sides() {
  const ours = openDesign();
  const base = readKeyed(ours.doc)!;
  const branch = branchOf(ours);
  runAll(
    branch,
    { kind: 'add-colour', id: 's', name: 'sand', hex: '#ddcc99' },
    { kind: 'recolour-strings', strings: [0, 3], colour: 's' },
    { kind: 'remove-colour', id: 'r', replaceWith: 's' },
    { kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 3 }] },
  );
  runAll(ours, { kind: 'set-knots', knots: [{ row: 2, k: 0, knot: 4 }] });
  const [our, their] = [readKeyed(ours.doc)!, readKeyed(branch.doc)!];
  return { our, their, merge: mergeDesigns(base, our, their) };
}

const STRINGS = ['string-colour w1.~0 0', 'string-colour w1.~1 1'];

describe('choosing of a proposal', () => {
  it('[A33] begins with everything that can be taken, and no conflict decided', () => {
    const { merge } = sides();
    const all = chooseAll(merge);
    expect([...all.chosen].sort()).toEqual(['colour-added s', 'colour-removed r', ...STRINGS]);
    expect(openConflicts(merge, all)).toEqual(merge.conflicts);
    expect(merge.conflicts).toHaveLength(1);
    expect(isPart(merge, all)).toBe(true);
    const decided = new Map([[conflictKey(merge.conflicts[0]!), 'theirs' as const]]);
    expect(isPart(merge, { ...all, decided })).toBe(false);
    expect(openConflicts(merge, { ...all, decided })).toEqual([]);
  });

  it('[D138] takes along what is needed, and leaves what needs what is left', () => {
    const { our, their, merge } = sides();
    const tick = (keys: readonly string[], from = new Set<string>() as ReadonlySet<string>) =>
      [...choose(from, keys, true, merge.changes, our, their)].sort();
    expect(tick([STRINGS[0]!])).toEqual(['colour-added s', STRINGS[0]]);
    expect(tick(['colour-removed r'])).toEqual(['colour-added s', 'colour-removed r', ...STRINGS]);
    const all = chooseAll(merge).chosen;
    const left = choose(all, ['colour-added s'], false, merge.changes, our, their);
    expect([...left]).toEqual([]);
    expect([...choose(all, [STRINGS[1]!], false, merge.changes, our, their)].sort()).toEqual([
      'colour-added s',
      STRINGS[0],
    ]);
  });

  it('[A33] applies of a conflict only what was decided for the proposal', () => {
    const { our, their, merge } = sides();
    const key = conflictKey(merge.conflicts[0]!);
    const kinds = (side: 'ours' | 'theirs'): readonly string[] =>
      changesOf(merge, { chosen: new Set(), decided: new Map([[key, side]]) }, our, their).map(
        ({ kind }) => kind,
      );
    expect(kinds('ours')).toEqual([]);
    expect(kinds('theirs')).toEqual(['knot']);
  });
});
