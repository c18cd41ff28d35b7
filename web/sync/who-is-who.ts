/**
 * How people at one board come by a name and a colour that nobody else there has, without anybody being asked.
 *
 * Everybody's page knows who is there and works out the same from it: of those who carry the same colour, or the same name, one keeps it, and
 * the others move to what is free. Nobody hands anything out, so there is nothing to race for: two who come at once, on two nodes too,
 * see each other a moment later, and by the same rule one of them moves. A page moves its own person alone.
 *
 * Who keeps it: whoever shows no seat, since they give nothing up; of a name whoever chose it; then whoever came first. Nobody moves
 * off a name that they chose: two who chose the same one both keep it.
 */
import type { Seat } from '../../engine/document/index.ts';
import { nameKey } from './craft-words.ts';
import { FIRST_HEXES, type Look } from './person.ts';

/** The colours of people; any two differ by 14 and more (CIEDE2000). */
export const HEXES: readonly string[] = [
  ...FIRST_HEXES,
  ...'#009ae3 #ff48b5 #bb8280 #8e8db7 #1ba724 #939368 #ef2649 #2ba0a1'.split(' '),
  ...'#af6af5 #cc7f00 #6e4e32 #5475ff #946a88 #a71825 #9e7a5c #5d9e79'.split(' '),
];

/** Beyond this a time is of a clock that goes wrong, or of somebody who means to come first or last. */
const AHEAD_MS = 86_400_000;

/** Somebody at the board, as they show themselves; several of one id are one person. */
export interface Shown {
  readonly id: string;
  readonly name: string;
  readonly hex: string;
  readonly seat?: Seat | undefined;
}

/** When somebody who finds these people there has come: now, and after all of them. */
export function seatAfter(here: readonly Shown[], now: number): number {
  const seats = here.map(({ seat }) => seat?.since ?? 0).filter((since) => since <= now + AHEAD_MS);
  return Math.max(now, ...seats.map((since) => since + 1));
}

/** First of all who gives nothing up, then whoever came first. */
function byArrival(one: Shown, other: Shown): number {
  const since = ({ seat }: Shown): number => seat?.since ?? -1;
  return since(one) - since(other) || (one.id < other.id ? -1 : one.id > other.id ? 1 : 0);
}

const isSettled = ({ seat }: Shown): boolean => seat === undefined || seat.isNamed;

/** One of each person: the tab that was there first. */
function persons(here: readonly Shown[]): readonly Shown[] {
  const first = new Map<string, Shown>();
  for (const one of here.toSorted(byArrival)) if (!first.has(one.id)) first.set(one.id, one);
  return [...first.values()];
}

/** Those who do not keep what they carry, in the order in which they choose; they come in the order in which they keep. */
function movers(inOrder: readonly Shown[], key: (one: Shown) => string): readonly Shown[] {
  const taken = new Set<string>();
  return inOrder.filter((one) => {
    const isTaken = taken.has(key(one));
    taken.add(key(one));
    return isTaken;
  });
}

/** A number from an id, so that two who choose from the same list begin at different places. */
function startOf(id: string): number {
  let sum = 0;
  for (const letter of id) sum = (sum * 31 + letter.codePointAt(0)!) % 65_521;
  return sum;
}

/** What each takes of the free ones, one after the other; nothing where all are gone. */
function choose(who: readonly Shown[], free: readonly string[]): ReadonlyMap<string, string> {
  const left = [...free];
  const chosen = new Map<string, string>();
  for (const { id } of who) {
    if (left.length === 0) break;
    chosen.set(id, left.splice(startOf(id) % left.length, 1)[0]!);
  }
  return chosen;
}

/**
 * What a person is to look like among all who are there, themselves included.
 * @param known names of others whom the board knows, by id: a name that was not chosen moves off theirs too
 * @param words to choose a name from; when all are taken they are numbered
 * O(n log n) in who is there.
 */
export function lookAmong(
  selfId: string,
  here: readonly Shown[],
  known: ReadonlyMap<string, string>,
  words: readonly string[],
): Look {
  const all = persons(here);
  const self = all.find(({ id }) => id === selfId);
  if (self === undefined) throw new RangeError(`${selfId} is not among those who are there`);
  const hexes = new Set(all.map(({ hex }) => hex));
  const moving = movers(all, ({ hex }) => hex).filter(({ seat }) => seat !== undefined);
  const colours = choose(
    moving,
    HEXES.filter((hex) => !hexes.has(hex)),
  );
  return { name: nameAmong(self, all, known, words), hex: colours.get(selfId) ?? self.hex };
}

function nameAmong(
  self: Shown,
  all: readonly Shown[],
  known: ReadonlyMap<string, string>,
  words: readonly string[],
): string {
  if (isSettled(self)) return self.name;
  const others = new Set([...known].filter(([id]) => id !== self.id).map(([, name]) => nameKey(name)));
  const inOrder = [...all].sort((a, b) => Number(isSettled(b)) - Number(isSettled(a)) || byArrival(a, b));
  const moving = movers(inOrder, ({ name }) => nameKey(name)).filter((one) => !isSettled(one));
  const isTaken = others.has(nameKey(self.name));
  if (!isTaken && !moving.includes(self)) return self.name;
  const taken = new Set([...others, ...all.map(({ name }) => nameKey(name))]);
  let who = isTaken && !moving.includes(self) ? [...moving, self] : moving;
  for (let round = 1; ; round += 1) {
    const free = words
      .map((word) => (round === 1 ? word : `${word} ${round}`))
      .filter((word) => !taken.has(nameKey(word)));
    const chosen = choose(who, free);
    const own = chosen.get(self.id);
    if (own !== undefined) return own;
    who = who.filter(({ id }) => !chosen.has(id));
  }
}
