import { expect, test } from 'vitest';
import { LIMITS, type Presence, readPresence } from '../../../engine/document/index.ts';

const address = { rowPair: 'p.~0', stringPair: 'p.~1', half: 'seam' } as const;
const whole: Presence = {
  person: { id: 'mara', name: 'Mara', hex: '#22aa88' },
  cursor: address,
  selection: { from: address, to: { ...address, half: 'inside' } },
  view: { fromRow: 0, toRow: 39 },
};
/** A copy with one field changed, by path. */
function changed(path: string, value: unknown): unknown {
  const copy = structuredClone(whole) as unknown as Record<string, unknown>;
  const steps = path.split('.');
  let at = copy;
  for (const step of steps.slice(0, -1)) at = at[step] as Record<string, unknown>;
  at[steps.at(-1)!] = value;
  return copy;
}

test('[D90] a whole presence is read as it is, in a new object', () => {
  const read = readPresence(whole);
  expect(read).toEqual(whole);
  expect(read).not.toBe(whole);
});

test('[D90] cursor, selection and view may be null but not missing', () => {
  for (const field of ['cursor', 'selection', 'view']) {
    expect(readPresence(changed(field, null))).not.toBeNull();
    expect(readPresence(changed(field, undefined))).toBeNull();
  }
});

test('[D90] when somebody came, and whether they chose their name, may be said, or not', () => {
  const seat = { since: 1_700_000_000_000, isNamed: true };
  expect(readPresence({ ...whole, seat })).toEqual({ ...whole, seat });
  const bad: readonly unknown[] = [
    null,
    7,
    { since: -1, isNamed: true },
    { since: 0.5, isNamed: true },
    { since: 2 ** 53, isNamed: true },
    { since: 1, isNamed: 1 },
  ];
  for (const one of bad) expect([one, readPresence({ ...whole, seat: one })]).toEqual([one, null]);
});

test('[D91] what is of another type, too long or no colour is refused as a whole', () => {
  const long = 'x'.repeat(100);
  const bad: [string, unknown][] = [
    ['person', null],
    ['person', []],
    ['person.id', ''],
    ['person.id', long],
    ['person.id', 7],
    ['person.name', long],
    ['person.name', 3],
    ['person.hex', 'red'],
    ['person.hex', '#12345'],
    ['cursor.rowPair', long],
    ['cursor.half', 'both'],
    ['cursor', 'here'],
    ['selection.to', null],
    ['selection.from.stringPair', 1],
    ['view.fromRow', -1],
    ['view.fromRow', 40],
    ['view.toRow', 20_000],
    ['view.toRow', Number.NaN],
  ];
  for (const [path, value] of bad) expect([path, readPresence(changed(path, value))]).toEqual([path, null]);
  for (const value of [undefined, null, 1, 'x', [], {}]) expect(readPresence(value)).toBeNull();
});

test('[D330] what somebody has open is read, is nothing where none is named, and nothing of a kind that is not known yet', () => {
  const open = { kind: 'colourway', id: 'w1' };
  expect(readPresence(changed('open', open))).toEqual({ ...whole, open });
  for (const nothing of [undefined, null, { kind: 'tassel', id: 'w1' }])
    expect(readPresence(changed('open', nothing))).toEqual(whole);
  for (const bad of [
    7,
    'w1',
    [],
    {},
    { kind: 3, id: 'w1' },
    { kind: 'colourway', id: '' },
    { kind: 'colourway' },
  ])
    expect(readPresence(changed('open', bad))).toBeNull();
});

test('[D91] the largest presence stays within the byte limit', () => {
  const id = 'é'.repeat(81);
  const far = { rowPair: id, stringPair: id, half: 'inside' } as const;
  const large = {
    person: { id, name: '€'.repeat(LIMITS.nameCharacters), hex: '#ffffff' },
    cursor: far,
    selection: { from: far, to: far },
    view: { fromRow: 19_998, toRow: 19_999 },
    open: { kind: 'colourway', id },
  };
  const read = readPresence(large);
  expect(read).toEqual(large);
  expect(new TextEncoder().encode(JSON.stringify(read)).length).toBeLessThanOrEqual(LIMITS.presenceBytes);
});

test('[D92] unknown fields, controls and halves of characters do not get through', () => {
  const read = readPresence({ ...(changed('person.name', 'A\u0007b\u202Ec\ud800') as object), extra: 1 });
  expect(read).toEqual(changed('person.name', 'Abc\ufffd'));
});
