/** Who sits at this browser: made up once, kept, and never mixed up by what somebody else left there. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import {
  keepLook,
  keepPersonId,
  newId,
  onPersonChange,
  type Person,
  readPerson,
  renamePerson,
} from '../../../web/sync/index.ts';
import { FIRST_HEXES, FIRST_NAMES } from '../../../web/sync/person.ts';
import type { MapShelf } from '../../support/map-shelf.ts';
import { stubPage } from '../../support/page-globals.ts';

let shelf: MapShelf;
beforeEach(() => {
  shelf = stubPage();
});
afterEach(() => vi.unstubAllGlobals());

test('is the same at the next visit', () => {
  const person = readPerson();
  expect(person.id).toMatch(/^[0-9a-f]{16}$/);
  expect(FIRST_HEXES).toContain(person.hex);
  expect(FIRST_NAMES).toContain(person.name);
  expect(person.isNamed).toBe(false);
  expect(readPerson()).toEqual(person);
});

test('a new name leaves who it is, and so does the id under which the server knows them', () => {
  const { id, hex } = readPerson();
  expect(renamePerson('Ida')).toEqual({ id, hex, name: 'Ida', isNamed: true });
  expect(keepPersonId('known')).toEqual({ id: 'known', hex, name: 'Ida', isNamed: true });
  expect(readPerson().id).toBe('known');
});

test('an empty id is nobody’s, and is not kept', () => {
  const { id } = readPerson();
  expect(keepPersonId('').id).toBe(id);
  expect(readPerson().id).toBe(id);
});

test.each(['{', 'null', '5', '{"id":"a","name":"","hex":"#123456"}', '{"id":"a","name":7,"hex":"#123456"}'])(
  'what is nobody is replaced by somebody: %s',
  (kept) => {
    shelf.kept.set('larkboard.person', kept);
    const person = readPerson();
    expect(person.id).toMatch(/^[0-9a-f]{16}$/);
    expect(readPerson()).toEqual(person);
  },
);

test('ids are not alike', () => {
  expect(new Set(Array.from({ length: 100 }, newId)).size).toBe(100);
});

test('[W940] name and colour are drawn apart', () => {
  const drawn = Array.from({ length: 300 }, () => {
    shelf.kept.clear();
    const { name, hex } = readPerson();
    return `${name} ${hex}`;
  });
  expect(new Set(drawn).size).toBeGreaterThan(FIRST_HEXES.length);
});

test.each([
  ['Wren', false],
  ['Ida', true],
])('[W945] of what an earlier release kept, %s was chosen: %s', (name, isNamed) => {
  shelf.kept.set('larkboard.person', JSON.stringify({ id: 'a', name, hex: '#123456' }));
  expect(readPerson()).toEqual({ id: 'a', name, hex: '#123456', isNamed });
});

test('[W942] a look is kept for all tabs, and each hears of it from the others until it listens no more', () => {
  const events = new EventTarget();
  vi.stubGlobal('addEventListener', events.addEventListener.bind(events));
  vi.stubGlobal('removeEventListener', events.removeEventListener.bind(events));
  const heard: Person[] = [];
  const stop = onPersonChange((person) => heard.push(person));
  const { id } = readPerson();
  const kept = keepLook({ name: 'Skein', hex: '#2f6f73' });
  expect(kept).toEqual({ id, name: 'Skein', hex: '#2f6f73', isNamed: false });
  const tell = (key: string): unknown => events.dispatchEvent(Object.assign(new Event('storage'), { key }));
  tell('larkboard.language');
  tell('larkboard.person');
  expect(heard).toEqual([kept]);
  stop();
  tell('larkboard.person');
  expect(heard).toHaveLength(1);
});
