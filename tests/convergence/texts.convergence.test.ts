/**
 * Two and three people who type into one text, letter by letter, with words that are late, out of order and held back. However it went: all
 * copies hold the same text, and every word is in it whole, which it can only be if the caret stayed with it.
 */
import { afterAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { Design, TextPlace } from '../../engine/document/index.ts';
import { cases, firstSeed } from '../support/depth.ts';
import { HandClock } from '../support/hand-clock.ts';
import { joinDesign, openDesign } from '../support/open-design.ts';
import { type SeededRandom, seededRandom } from '../support/seeded-random.ts';
import { TypingHand } from '../support/typing-hand.ts';

/** What happened over all seeds: a run in which hands never met would show nothing. */
const met = { lost: 0, pastes: 0, removed: 0 };

interface Person {
  readonly design: Design;
  readonly field: TypingHand;
  /** What is still to be typed of the present word. */
  rest: string;
  isAway: boolean;
  /** Updates on their way to the server, and from it, in their order. */
  readonly going: Uint8Array[];
  readonly coming: Uint8Array[];
}

function room(people: number, place: TextPlace, random: SeededRandom, clock: HandClock): Person[] {
  const first = openDesign();
  const ids = random.shuffle(Array.from({ length: people }, (_, i) => 5001 + i));
  const designs = [first, ...Array.from({ length: people - 1 }, (_, i) => joinDesign(first, `m${i}`))];
  designs.forEach(({ doc }, i) => {
    doc.clientID = ids[i]!;
  });
  const all = designs.map(
    (design): Person => ({
      design,
      field: new TypingHand(design, place, clock),
      rest: '',
      isAway: false,
      going: [],
      coming: [],
    }),
  );
  for (const one of all) {
    one.field.hand.source.listen((now, joint) => {
      if (now !== joint) met.lost++;
    });
    one.design.doc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin !== 'remote') one.going.push(update);
    });
  }
  return all;
}

/** One update comes to the server, which passes it on, or from there to the person. @returns whether there was any */
function carry(one: Person, all: readonly Person[], random: SeededRandom): boolean {
  const { design, going, coming } = one;
  const isUp = coming.length === 0 || (going.length > 0 && random.chance(0.5));
  const update = (isUp ? going : coming).shift();
  if (update === undefined) return false;
  if (isUp) for (const other of all) if (other !== one) other.coming.push(update);
  if (!isUp) Y.applyUpdate(design.doc, update, 'remote');
  return true;
}

/** Places between words. */
function gaps(text: string): number[] {
  const found = [0, text.length];
  for (const { index } of text.matchAll(/ /g)) found.push(index, index + 1);
  return found;
}

function play(seed: number, people: number, place: TextPlace, steps: number): void {
  const random = seededRandom(seed);
  const clock = new HandClock();
  const all = room(people, place, random, clock);
  const typed: string[] = [];
  const removed: string[] = [];
  let words = 0;
  for (let i = 0; i < steps; i++) {
    const one = random.pick(all);
    const { field } = one;
    const what = random.next();
    if (what < 0.25) {
      if (!one.isAway) carry(one, all, random);
    } else if (what < 0.28) one.isAway = !one.isAway;
    else if (what < 0.36) clock.turn(random.below(900));
    else if (!field.isHere) field.come(random.pick(gaps(field.hand.text)));
    else if (one.rest !== '') {
      field.put(one.rest[0]!, 'insertText');
      one.rest = one.rest.slice(1);
      if (one.rest === '' && random.chance(0.5)) field.put(' ', 'insertText');
    } else if (what < 0.8) {
      // Words of their own, between others: who writes on in the word of another makes one word of both.
      const before = field.shown[field.caret - 1] ?? ' ';
      if (before !== ' ') field.put(' ', 'insertText');
      const after = field.shown[field.caret] ?? ' ';
      if (after !== ' ') {
        field.put(' ', 'insertText');
        field.come(field.caret - 1);
      }
      // Each person's words begin with a letter of their own: of two equal letters at one place nobody can tell whose is whose.
      const word = `${'xyz'[all.indexOf(one)]}${words++}${'abcdefgh'.slice(0, 3 + random.below(5))}Q`;
      typed.push(word);
      if (random.chance(0.2)) {
        field.paste(word);
        met.pastes++;
      } else one.rest = word;
    } else if (what < 0.88) field.come(random.pick(gaps(field.shown)));
    else if (what < 0.93) {
      // Takes out a word, maybe one that its writer is still at.
      const found = [...field.shown.matchAll(/\w+ ?/g)];
      if (found.length > 3) {
        const { 0: word, index } = random.pick(found);
        removed.push(word.trim());
        field.come(index, index + word.length).put('', 'deleteContentBackward');
        met.removed++;
      }
    } else if (random.chance(0.3)) field.go();
    else field.blur();
  }
  for (const { field, rest } of all) {
    if (field.isHere) field.type(rest);
    else if (rest !== '')
      typed.splice(
        typed.findIndex((word) => word.endsWith(rest)),
        1,
      );
    field.go();
  }
  // Each round everybody merges what they heard; of those who write at once one is through.
  let rounds = 0;
  for (let quiet = 0; quiet < 2; quiet++) {
    clock.turn(5000);
    const isDone = (one: Person): boolean => !carry(one, all, random);
    while (!random.shuffle(all).every(isDone)) quiet = 0;
    expect([seed, rounds++ < 4 * people]).toEqual([seed, true]);
  }
  const texts = all.map(({ field }) => field.hand.source.text);
  expect([seed, new Set(texts).size]).toEqual([seed, 1]);
  expect([seed, all.map(({ field }) => field.hand.text)]).toEqual([seed, texts]);
  const [text] = texts;
  const gone = typed.filter(
    (word) => !text!.includes(word) && !removed.some((part) => word.includes(part) || part.includes(word)),
  );
  expect([seed, gone, text]).toEqual([seed, [], text]);
}

describe('people who type into one text', () => {
  it.each([
    ['two', 2],
    ['three', 3],
  ] as const)('[D344] [W1000] [W1002] %s hands: nothing typed is lost, and all copies agree', (_, people) => {
    for (let seed = firstSeed; seed < firstSeed + cases(60, 2000); seed++)
      play(seed, people, { of: 'notes' }, 200);
  });

  afterAll(() => {
    expect(met.lost).toBeGreaterThan(100);
    expect(met.pastes).toBeGreaterThan(20);
    expect(met.removed).toBeGreaterThan(20);
  });
});
