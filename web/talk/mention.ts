/** Speaking to somebody inside a text: `@` and their name. */
import type { Speaker } from '../../engine/document/index.ts';

/** The name that is being typed behind an `@`: where the `@` stands, and what follows it up to the caret. */
export interface Naming {
  readonly from: number;
  readonly typed: string;
}

/** What is being named at the caret; null when nothing is. An `@` inside a word, as in an address, names nobody. */
export function namingAt(text: string, caret: number): Naming | null {
  const from = text.lastIndexOf('@', caret - 1);
  if (from < 0 || (from > 0 && !/\s|[([{„“"'«]/u.test(text[from - 1] as string))) return null;
  const typed = text.slice(from + 1, caret);
  return typed.length > 60 || typed.includes('\n') ? null : { from, typed };
}

/** Those whose name, or a word of it, begins with what was typed; at most `most`. */
export function peopleNamed(people: readonly Speaker[], typed: string, most: number): readonly Speaker[] {
  const wanted = typed.toLocaleLowerCase();
  return people
    .filter(({ name }) => {
      const whole = name.toLocaleLowerCase();
      return whole.startsWith(wanted) || whole.split(/\s+/).some((word) => word.startsWith(wanted));
    })
    .slice(0, most);
}

/** The text with a name put in the place of what was typed, and the caret behind it. */
export function withName(
  text: string,
  { from, typed }: Naming,
  name: string,
): { readonly text: string; readonly caret: number } {
  const put = `@${name} `;
  return {
    text: text.slice(0, from) + put + text.slice(from + 1 + typed.length).replace(/^ /, ''),
    caret: from + put.length,
  };
}

/** Ids of those who are named in a text. */
export function namedIn(text: string, people: readonly Speaker[]): readonly string[] {
  return people.filter(({ name }) => name !== '' && text.includes(`@${name}`)).map(({ id }) => id);
}

/** A text in pieces: names of people it speaks to, and what is between. */
export function piecesOf(
  text: string,
  names: readonly string[],
): readonly { readonly text: string; readonly isName: boolean }[] {
  const known = names.filter((name) => name !== '').map((name) => `@${name}`);
  const pieces: { text: string; isName: boolean }[] = [];
  let rest = text;
  while (rest !== '') {
    // The earliest name; of two at one place the longer.
    const found = known
      .map((name) => ({ name, at: rest.indexOf(name) }))
      .filter(({ at }) => at >= 0)
      .sort((a, b) => a.at - b.at || b.name.length - a.name.length)[0];
    if (found === undefined) {
      pieces.push({ text: rest, isName: false });
      break;
    }
    if (found.at > 0) pieces.push({ text: rest.slice(0, found.at), isName: false });
    pieces.push({ text: found.name, isName: true });
    rest = rest.slice(found.at + found.name.length);
  }
  return pieces;
}
