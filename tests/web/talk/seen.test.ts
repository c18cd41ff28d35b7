import { describe, expect, it } from 'vitest';
import { Seen } from '../../../web/talk/seen.ts';
import { MapShelf } from '../../support/map-shelf.ts';
import { thread } from '../../support/thread.ts';

describe('what was looked at', () => {
  it('[G3] others’ remarks are new until looked at, also after a reload; one’s own and those taken back never', () => {
    const shelf = new MapShelf();
    const talk = thread('t', ['ida', 'a'], ['me', 'b'], ['ida', null], ['ida', 'c']);
    const seen = new Seen(shelf, 'b', 'me');
    expect(seen.unreadIn(talk).map(({ text }) => text)).toEqual(['a', 'c']);
    expect(seen.note('t', 2)).toBe(true);
    expect(seen.note('t', 1)).toBe(false);
    expect(new Seen(shelf, 'b', 'me').unreadIn(talk).map(({ text }) => text)).toEqual(['c']);
    expect(new Seen(shelf, 'b', 'ida').unreadIn(talk).map(({ text }) => text)).toEqual(['b']);
    for (const junk of ['{', '5', '{"t":"x"}']) {
      shelf.kept.set('larkboard.seen.b.me', junk);
      expect(new Seen(shelf, 'b', 'me').unreadIn(talk)).toHaveLength(2);
    }
  });
});
