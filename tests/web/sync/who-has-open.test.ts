/** Who else has something of the board open. */
import { expect, test } from 'vitest';
import type { Presence } from '../../../engine/document/index.ts';
import { type PersonHere, whoHasOpen } from '../../../web/sync/index.ts';

const here = (id: string, name: string, open?: Presence['open'], self = false): PersonHere => ({
  clientId: 1,
  self,
  presence: {
    person: { id, name, hex: '#112233' },
    cursor: null,
    selection: null,
    view: null,
    ...(open === undefined ? {} : { open }),
  },
});

test('[W970] each other who has it open is named once; oneself is not, nor who has another open', () => {
  const w1 = { kind: 'colourway', id: 'w1' } as const;
  const people = [
    here('me', 'Kit', w1, true),
    // Another tab of the same person.
    here('me', 'Kit', w1),
    here('fay', 'Fay', w1),
    here('fay', 'Fay', w1),
    here('bo', 'Bo', { kind: 'colourway', id: 'w2' }),
    here('cy', 'Cy', null),
    here('ada', 'Ada'),
    here('ina', 'Ina', w1),
  ];
  expect(whoHasOpen(people, w1)).toEqual(['Fay', 'Ina']);
  expect(whoHasOpen(people, { kind: 'colourway', id: 'w3' })).toEqual([]);
});
