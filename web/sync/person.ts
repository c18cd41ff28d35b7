/** Who sits at this browser: a name and a colour of their own, kept here and told to the others at the board. */
const KEY = 'larkboard.person';
const HEXES = [
  '#b3541e',
  '#2f6f73',
  '#7a4fa3',
  '#3f6b25',
  '#a3325d',
  '#2d5aa0',
  '#8a6a00',
  '#0f7a5c',
] as const;
const NAMES = ['Wren', 'Finch', 'Plover', 'Swift', 'Martin', 'Robin', 'Linnet', 'Dunlin'] as const;

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly hex: string;
}

function isPerson(value: unknown): value is Person {
  const fields = value as Person | null;
  return (
    typeof fields === 'object' &&
    fields !== null &&
    [fields.id, fields.name, fields.hex].every((field) => typeof field === 'string' && field.length > 0)
  );
}

/** The person of this browser; made up at the first visit. */
export function readPerson(): Person {
  const stored = localStorage.getItem(KEY);
  if (stored !== null) {
    try {
      const value: unknown = JSON.parse(stored);
      if (isPerson(value)) return value;
    } catch (cause) {
      if (!(cause instanceof SyntaxError)) throw cause;
    }
  }
  const id = newId();
  const pick = Math.floor(Math.random() * HEXES.length);
  const person = { id, name: NAMES[pick]!, hex: HEXES[pick]! };
  localStorage.setItem(KEY, JSON.stringify(person));
  return person;
}

/** Keeps a new name. */
export function renamePerson(name: string): Person {
  const person = { ...readPerson(), name };
  localStorage.setItem(KEY, JSON.stringify(person));
  return person;
}

/** Keeps the id under which the server knows this browser, so that offline too the person is the same. An empty one is nobody's. */
export function keepPersonId(id: string): Person {
  if (id === '') return readPerson();
  const person = { ...readPerson(), id };
  localStorage.setItem(KEY, JSON.stringify(person));
  return person;
}

/** A fresh id, 16 letters and digits. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
