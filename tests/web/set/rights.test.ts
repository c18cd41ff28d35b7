import { beforeAll, describe, expect, it } from 'vitest';
import { ROLES } from '../../../engine/document/index.ts';
import type { Colourway } from '../../../engine/index.ts';
import { whose } from '../../../web/set/card.ts';
import { type Me, mayAssign, mayChange } from '../../../web/set/rights.ts';
import { loadTexts } from '../../../web/text/index.ts';

const me = (role: Me['role'], canEdit = true): Me => ({ id: 'me', name: 'Kit', role, canEdit });

const of = (maker?: Colourway['maker']): Colourway => ({
  id: 'w',
  name: 'W',
  colours: [],
  ...(maker && { maker }),
});

const mine = of({ id: 'me', name: 'Kit' });

const hers = of({ id: 'her', name: 'Fay' });

beforeAll(() => loadTexts('set'));

describe('rights in a set', () => {
  it('[Y4] one’s own, nobody’s, and as an owner all; nothing where the design cannot be changed', () => {
    for (const role of [...ROLES, null]) {
      const isAll = role === 'owner' || role === null;
      expect([role, mayChange(me(role), mine), mayChange(me(role), of()), mayChange(me(role), hers)]).toEqual(
        [role, true, true, isAll],
      );
      expect([role, mayAssign(me(role))]).toEqual([role, isAll]);
      for (const colourway of [mine, of(), hers]) expect(mayChange(me(role, false), colourway)).toBe(false);
      expect(mayAssign(me(role, false))).toBe(false);
    }
  });

  it('[Y1] whose it is: by the name somebody has now, else by the one they had', () => {
    const here = (name: string) => [
      {
        clientId: 1,
        self: false,
        presence: { person: { id: 'her', name, hex: '#112233' }, cursor: null, selection: null, view: null },
      },
    ];
    expect(whose(null, me('owner'), [])).toBe('the board');
    expect(whose(mine, me('owner'), [])).toBe('yours');
    expect(whose(of(), me('owner'), [])).toBe('nobody’s yet');
    expect(whose(hers, me('owner'), [])).toBe('Fay’s');
    expect(whose(hers, me('owner'), here('Fay Wren'))).toBe('Fay Wren’s');
  });
});
