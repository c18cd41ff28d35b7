import { describe, expect, it } from 'vitest';
import { searchActions } from '../../../web/board/search-actions.ts';

describe('command search', () => {
  it('[B72] finds by any words in any order, beginnings first, accents aside', () => {
    const names = ['The arrow', 'Two rows above', 'Delete these row pairs', 'Größer', 'Rows of knots'];
    const find = (text: string) => searchActions(names, text, (name) => name);
    // Where the name begins so, then where a word of it does, then within one; equals as they stood.
    expect(find('row')).toEqual(['Rows of knots', 'Two rows above', 'Delete these row pairs', 'The arrow']);
    expect(find('above two')).toEqual(['Two rows above']);
    expect(find('gross')).toEqual([]);
    expect(find('größer')).toEqual(['Größer']);
    expect(find('groß')).toEqual(['Größer']);
    expect(find('')).toEqual(names);
    expect(find('zzz')).toEqual([]);
  });
});
