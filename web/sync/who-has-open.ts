/** Who else has something of the board open, so that whoever would remove it is asked first. */
import type { Opened } from '../../engine/document/index.ts';
import type { PersonHere } from './people-here.ts';

/** Names of the others who have something open, each once; none = nobody. Oneself, in other tabs too, is none of them. */
export function whoHasOpen(people: readonly PersonHere[], what: Opened): readonly string[] {
  const me = people.find(({ self }) => self)?.presence.person.id;
  const names = new Map<string, string>();
  for (const { presence } of people) {
    const { person, open } = presence;
    if (person.id !== me && open?.kind === what.kind && open.id === what.id)
      names.set(person.id, person.name);
  }
  return [...names.values()];
}
