import { describe, expect, it } from 'vitest';
import { searchActions } from '../../../web/board/search-actions.ts';

describe('command search', () => {
  it('[B72] finds by any words in any order, beginnings first, accents aside', () => {
    const names = ['Two rows above', 'Delete these row pairs', 'Größer', 'The arrow'];
    const find = (text: string) => searchActions(names, text, (name) => name);
    expect(find('row')).toEqual(['Two rows above', 'Delete these row pairs', 'The arrow']);
    expect(find('above two')).toEqual(['Two rows above']);
    expect(find('gross')).toEqual([]);
    expect(find('größer')).toEqual(['Größer']);
    expect(find('groß')).toEqual(['Größer']);
    expect(find('')).toEqual(names);
    expect(find('zzz')).toEqual([]);
  });
});
