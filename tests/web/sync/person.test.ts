/** Who sits at this browser: made up once, kept, and never mixed up by what somebody else left there. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { keepPersonId, newId, readPerson, renamePerson } from '../../../web/sync/index.ts';
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
  expect(person.hex).toMatch(/^#[0-9a-f]{6}$/);
  expect(person.name).toMatch(/^\w+$/);
  expect(readPerson()).toEqual(person);
});

test('a new name leaves who it is, and so does the id under which the server knows them', () => {
  const { id, hex } = readPerson();
  expect(renamePerson('Ida')).toEqual({ id, hex, name: 'Ida' });
  expect(keepPersonId('known')).toEqual({ id: 'known', hex, name: 'Ida' });
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
