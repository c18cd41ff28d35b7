import { describe, expect, it } from 'vitest';
import { namedIn, namingAt, peopleNamed, piecesOf, withName } from '../../../web/talk/mention.ts';

const me = { id: 'me', name: 'Mara', hex: '#336699' };

const ida = { id: 'ida', name: 'Ida Finch', hex: '#993366' };

describe('names', () => {
  it('[G4] are offered behind an @ that begins a word, and put in its place', () => {
    expect(namingAt('a@b', 3)).toBeNull();
    expect(namingAt('ask @fi now', 7)).toEqual({ from: 4, typed: 'fi' });
    expect(peopleNamed([me, ida], 'fi', 6)).toEqual([ida]);
    expect(peopleNamed([me, ida], '', 6)).toEqual([me, ida]);
    expect(withName('ask @fi now', { from: 4, typed: 'fi' }, ida.name)).toEqual({
      text: 'ask @Ida Finch now',
      caret: 15,
    });
    expect(namedIn('ask @Ida Finch now', [me, ida])).toEqual(['ida']);
    expect(piecesOf('@Ida Finch, @Ida', ['Ida', 'Ida Finch']).filter(({ isName }) => isName)).toEqual([
      { text: '@Ida Finch', isName: true },
      { text: '@Ida', isName: true },
    ]);
  });
});
