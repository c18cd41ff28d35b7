import { describe, expect, it } from 'vitest';
import { addressOfLink, secretIn } from '../../../web/sync/links.ts';

describe('the address of a link', () => {
  const secret = 'Ab-_'.repeat(8);

  it('[A24] carries the secret behind the #, where browsers keep it to themselves', () => {
    const address = new URL(addressOfLink('https://kites.example', 'board', secret));
    expect([address.pathname, address.search, secretIn(address.hash)]).toEqual(['/board/board', '', secret]);
  });

  it.each(['', '#', '#top', `#${secret}x`, `#${secret.slice(1)}`, secret, `#${secret.slice(1)}%`])(
    '[A24] %j holds no secret',
    (hash) => expect(secretIn(hash)).toBeNull(),
  );
});
