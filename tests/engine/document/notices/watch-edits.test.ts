import { describe, expect, it } from 'vitest';
import { isBack, presentValue } from '../../../../engine/document/index.ts';
import { rootsOf } from '../../../../engine/document/schema.ts';
import { openDesign, runAll } from '../../../support/open-design.ts';

describe('what stands under a key now', () => {
  const doc = openDesign().doc;
  const roots = rootsOf(doc);

  it('of a list whether the entry is in it, of a map its value, of a knot how it reads', () => {
    const pair = roots.rowPairs.get(0) as string;
    const [strings] = roots.stringPairs.toArray() as string[];
    expect(presentValue(doc, 'rowPairs', pair)).toEqual({});
    expect(presentValue(doc, 'rowPairs', 'gone.~0')).toBeNull();
    expect(presentValue(doc, 'meta', 'version')).toBe(roots.meta.get('version'));
    const design = openDesign();
    runAll(design, { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 3 }] });
    const local = strings!.slice(strings!.indexOf('.') + 1);
    expect(presentValue(design.doc, 'knots', `${pair}:${local}:i`)).toBe(3);
  });

  it('what a change took is back once the entry is in the list again, or the value is the same, in parts too', () => {
    const key = roots.rowPairs.get(0) as string;
    const place = { behind: '', before: '', at: 0 };
    const change = { root: 'rowPairs', key, after: null } as const;
    expect(isBack(doc, { ...change, before: place })).toBe(true);
    expect(isBack(doc, { ...change, before: null })).toBe(false);
    expect(isBack(doc, { ...change, key: 'gone.~0', before: place })).toBe(false);
    const title = { root: 'meta', key: 'w0.title', after: 'other' } as const;
    expect(isBack(doc, { ...title, before: 'Test input' })).toBe(true);
    expect(isBack(doc, { ...title, before: 'former' })).toBe(false);
    // Where nothing stood, nothing is to come back.
    expect(isBack(doc, { ...title, key: 'w0.piece.notes', before: undefined })).toBe(true);
    doc.transact(() => roots.colourways.set('k', { id: 'x', colours: ['r'] }));
    const way = { root: 'colourways', key: 'k', after: undefined } as const;
    expect(isBack(doc, { ...way, before: { id: 'x', colours: ['r'] } })).toBe(true);
    expect(isBack(doc, { ...way, before: { id: 'x', colours: [] } })).toBe(false);
  });
});
