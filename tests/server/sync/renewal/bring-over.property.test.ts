/**
 * Laws of bringing over, on random threes: a design as its generation ended, a copy with a client's edits, and the design of the
 * next generation with the edits of others.
 */
import { expect, test } from 'vitest';
import { changeKey, compactDesign, compareDesigns, mergeDesigns } from '../../../../engine/document/index.ts';
import { bringOver } from '../../../../server/sync/renewal/bring-over.ts';
import { cases } from '../../../support/depth.ts';
import { countingIds } from '../../../support/sample-board.ts';
import { copyOf, forSeeds, keyed, shows, sorted, work } from '../../three-designs.ts';

/** What is met, for the last test. */
const met = new Map<string, number>();
const meet = (what: string): void => void met.set(what, (met.get(what) ?? 0) + 1);

/** What goes with something else that a copy took out: a shade with its colour, a lone string's pair, rows of a lead-in. */
const FORCED = /^colourway-colour|^end loneString|^piece leadInRows/;

test('[V101] [V193] what others did stays, and what of a copy is not on the board is kept with it', () => {
  forSeeds(cases(400, 10_000), ({ base, mine, into }) => {
    const [was, copy, present] = [keyed(base), keyed(mine), keyed(into)];
    const { commands, refused } = bringOver(base, mine, into, countingIds('n'));
    const after = keyed(into);
    const [edits, others] = [compareDesigns(was, copy), compareDesigns(was, present)];
    const lost = edits.filter((edit) => !shows(after, edit)).map(changeKey);
    if (lost.length > 0) expect([lost, refused]).not.toEqual([lost, []]);
    expect(others.filter((edit) => !shows(after, edit) && !FORCED.test(changeKey(edit)))).toEqual([]);
    if (commands === 0) expect(after).toEqual(present);
    for (const { kind } of edits) meet(kind);
    for (const { why, changes } of mergeDesigns(was, present, copy).conflicts)
      meet(`${why} ${changes[0].kind}`);
    meet(refused.length > 0 ? (commands > 0 ? 'in part' : 'not at all') : 'whole');
  });
});

test('[V100] [V102] where nobody else edited, the board is as the client had it, under the same ids', () => {
  forSeeds(cases(200, 10_000), ({ base, mine }) => {
    const into = copyOf(compactDesign(base, 3)!, 4);
    expect(bringOver(base, mine, into, countingIds('n')).refused).toEqual([]);
    const [copy, after] = [keyed(mine), keyed(into)];
    expect(sorted(after.board)).toEqual(sorted(copy.board));
    expect([after.rowPairIds, after.stringPairIds]).toEqual([copy.rowPairIds, copy.stringPairIds]);
  });
});

test('[V100] edits made on a copy after it came over find their places, also in what it brought', () => {
  forSeeds(cases(200, 10_000), ({ random, base, mine }) => {
    const into = copyOf(compactDesign(base, 3)!, 4);
    bringOver(base, mine, into, countingIds('n'));
    const later = copyOf(mine, 5);
    work(random, later, 1 + random.below(5), false);
    const { refused } = bringOver(mine, later, into, countingIds('o'));
    const after = keyed(into);
    const lost = compareDesigns(keyed(mine), keyed(later)).filter((edit) => !shows(after, edit));
    if (lost.length > 0) expect([lost, refused]).not.toEqual([lost, []]);
    meet(refused.length === 0 ? 'twice' : 'kept the second time');
  });
});

test('[V104] the same copy coming again writes nothing', () => {
  forSeeds(cases(100, 10_000), ({ base, mine, into }) => {
    bringOver(base, mine, into, countingIds('n'));
    const before = keyed(into);
    expect(bringOver(mine, mine, into, countingIds('o'))).toEqual({ commands: 0, refused: [] });
    expect(keyed(into)).toEqual(before);
  });
});

test('the runs met every kind of edit and how it can end', () => {
  const wanted = [
    ...['knot', 'string-colour', 'rows-added', 'rows-removed', 'strings-added', 'strings-removed', 'end'],
    ...[
      'colour-added',
      'colour-removed',
      'colour',
      'palette-order',
      'title',
      'extent',
      'piece',
      'gauge',
      'supply',
    ],
    ...['colourway-added', 'colourway-removed', 'colourway', 'colourway-colour', 'pattern'],
    ...['both-changed knot', 'both-changed pattern', 'ours-removed rows-added', 'ours-removed strings-added'],
    ...['theirs-removed rows-removed', 'theirs-removed strings-removed', 'theirs-removed colour-removed'],
    ...['whole', 'in part', 'not at all', 'twice'],
  ];
  expect(wanted.filter((what) => !met.has(what))).toEqual([]);
});
