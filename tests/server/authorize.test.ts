import { describe, expect, it } from 'vitest';
import { authorizeByAddress } from '../../server/index.ts';

describe('where whoever knows a board works on it', () => {
  const asker = { headers: {}, address: '192.0.2.7' };
  const asked = (kind: string) => authorizeByAddress(asker, { id: 'a', kind } as never, 'design');

  it('boards of people are worked on, demo boards looked at', async () => {
    expect(await asked('own')).toEqual({
      role: 'co-maker',
      canWrite: true,
      personId: null,
      isAdmitted: true,
    });
    expect(await asked('demo')).toEqual({
      role: 'onlooker',
      canWrite: false,
      personId: null,
      isAdmitted: false,
    });
  });

  it('there are no lessons, since nobody is known', async () => {
    expect(await asked('lesson')).toMatchObject({ denied: 'unknownBoard' });
  });
});
