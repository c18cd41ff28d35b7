/** Who sits at this browser: a name and a colour of their own, kept here and told to the others at the board. */
const KEY = 'larkboard.person';
/** What is drawn at the first visit. Before anybody sees it one moves to what is free at the board, see `who-is-who.ts`. */
export const FIRST_HEXES: readonly string[] =
  '#b3541e #2f6f73 #7a4fa3 #3f6b25 #a3325d #2d5aa0 #8a6a00 #0f7a5c'.split(' ');
export const FIRST_NAMES: readonly string[] = ['Bobbin', 'Toggle'];
/** What earlier releases drew. */
export const FORMER_NAMES: readonly string[] = 'Wren Finch Plover Swift Martin Robin Linnet Dunlin'.split(
  ' ',
);

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly hex: string;
  /** Whether they chose the name, or said that they go by the one proposed. */
  readonly isNamed: boolean;
}

/** What a person is seen as. */
export type Look = Pick<Person, 'name' | 'hex'>;

function oneOf(all: readonly string[]): string {
  return all[Math.floor(Math.random() * all.length)]!;
}

function readKept(value: unknown): Person | null {
  const fields = value as Person | null;
  if (typeof fields !== 'object' || fields === null) return null;
  const { id, name, hex, isNamed } = fields;
  if (![id, name, hex].every((field) => typeof field === 'string' && field.length > 0)) return null;
  return {
    id,
    name,
    hex,
    // Earlier releases kept only what it was.
    isNamed: isNamed ?? !FORMER_NAMES.includes(name),
  };
}

function keep(person: Person): Person {
  localStorage.setItem(KEY, JSON.stringify(person));
  return person;
}

/** The person of this browser; made up at the first visit. */
export function readPerson(): Person {
  const stored = localStorage.getItem(KEY);
  if (stored !== null) {
    try {
      const person = readKept(JSON.parse(stored));
      if (person !== null) return person;
    } catch (cause) {
      if (!(cause instanceof SyntaxError)) throw cause;
    }
  }
  return keep({ id: newId(), name: oneOf(FIRST_NAMES), hex: oneOf(FIRST_HEXES), isNamed: false });
}

/** Keeps a name that the person chose. */
export function renamePerson(name: string): Person {
  return keep({ ...readPerson(), name, isNamed: true });
}

/** Keeps what the person came to look like among others. */
export function keepLook(look: Look): Person {
  return keep({ ...readPerson(), ...look });
}

/** Keeps the id under which the server knows this browser, so that offline too the person is the same. An empty one is nobody's. */
export function keepPersonId(id: string): Person {
  if (id === '') return readPerson();
  return keep({ ...readPerson(), id });
}

/** Calls the listener when another tab of this browser changes who sits here. @returns stops it */
export function onPersonChange(listener: (person: Person) => void): () => void {
  const onStorage = ({ key }: StorageEvent): void => {
    if (key === KEY) listener(readPerson());
  };
  addEventListener('storage', onStorage);
  return () => removeEventListener('storage', onStorage);
}

/** A fresh id, 16 letters and digits. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
