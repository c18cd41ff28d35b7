/** What one types stays; what others write comes in around it; what cannot be written is kept and said. */
import { beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { compactDesign, type Design, readDesign, type TextPlace } from '../../../engine/document/index.ts';
import { nextGeneration } from '../../../web/sync/next-generation.ts';
import { LONGEST_MS, PAUSE_MS } from '../../../web/writing/text-in-hand.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { joinDesign, openDesign, runAll, syncAll } from '../../support/open-design.ts';
import { TypingHand } from '../../support/typing-hand.ts';

const TITLE: TextPlace = { of: 'title' };
const NOTES: TextPlace = { of: 'notes' };
let clock: HandClock;
let mine: Design;
let theirs: Design;
beforeEach(() => {
  clock = new HandClock();
  mine = openDesign();
  theirs = joinDesign(mine, 'n');
});

const titleOf = (design: Design): string => design.snapshot.board.title;
const meet = (): void => syncAll(mine, theirs);
const say = (title: string): void => {
  runAll(theirs, { kind: 'set-title', title });
  meet();
};
function typing(title = 'Moss', place: TextPlace = TITLE): TypingHand {
  runAll(mine, { kind: 'set-title', title });
  meet();
  return new TypingHand(mine, place, clock).come();
}

describe('what one types', () => {
  it('[W1000] [B157] is not replaced by what another wrote meanwhile: both stand there', () => {
    const hand = typing();
    hand.come(0, 4).type('Olive');
    say('Moss green');
    expect(hand.seen).toBe('Olive| green');
    hand.type('s');
    hand.blur();
    meet();
    expect([titleOf(mine), titleOf(theirs)]).toEqual(['Olives green', 'Olives green']);
  });

  it('[W1000] both wrote at once: whoever’s value lost writes both, and both pages agree', () => {
    for (const [a, b] of [
      [7001, 7002],
      [7004, 7003],
    ] as const) {
      mine = openDesign();
      theirs = joinDesign(mine, 'n');
      [mine.doc.clientID, theirs.doc.clientID] = [a, b];
      runAll(mine, { kind: 'set-title', title: 'Moss' });
      meet();
      const hands = [mine, theirs].map((design) => new TypingHand(design, TITLE, clock).come(0, 4));
      hands[0]!.type('Olive').blur();
      hands[1]!.type('Sand').blur();
      meet();
      clock.turn(0);
      meet();
      expect(new Set([titleOf(mine), titleOf(theirs), ...hands.map(({ shown }) => shown)]).size).toBe(1);
      expect(titleOf(mine).split(' ').sort()).toEqual(['Olive', 'Sand']);
    }
  });

  it('[W1000] is merged in again also when its field has long gone', () => {
    [mine.doc.clientID, theirs.doc.clientID] = [7101, 7102];
    const hand = typing();
    hand.type(' green').go();
    const other = new TypingHand(theirs, TITLE, clock).come(0);
    other.type('dark ').go();
    meet();
    clock.turn(0);
    meet();
    expect([titleOf(mine), titleOf(theirs)]).toEqual(['dark Moss green', 'dark Moss green']);
  });

  it('[X26] in notes a line of each is a line each', () => {
    const hands = [mine, theirs].map((design) => new TypingHand(design, NOTES, clock).come());
    hands[0]!.type('steel ring').blur();
    hands[1]!.type('red cord').blur();
    meet();
    clock.turn(0);
    meet();
    const notes = mine.snapshot.board.piece.notes;
    expect(theirs.snapshot.board.piece.notes).toBe(notes);
    expect(notes!.split('\n').sort()).toEqual(['red cord', 'steel ring']);
  });

  it('[W1001] is written at a pause, at the latest after some seconds, and at once when the field is left', () => {
    const hand = typing();
    hand.type(' g');
    clock.turn(PAUSE_MS - 1);
    hand.type('r');
    clock.turn(PAUSE_MS - 1);
    expect(titleOf(mine)).toBe('Moss');
    clock.turn(1);
    expect(titleOf(mine)).toBe('Moss gr');
    for (let ms = 0; ms < LONGEST_MS; ms += PAUSE_MS / 2) {
      hand.type('e');
      clock.turn(PAUSE_MS / 2);
    }
    expect(titleOf(mine)).toMatch(/^Moss gre+$/);
    hand.type('n').blur();
    expect(titleOf(mine)).toMatch(/^Moss gre+n$/);
    expect(clock.waiting).toBe(0);
  });

  it('[W1001] from coming to leaving it is one step of undo', () => {
    const hand = typing();
    hand.type(' green');
    clock.turn(PAUSE_MS);
    hand.type('ish');
    clock.turn(PAUSE_MS);
    hand.blur();
    expect(titleOf(mine)).toBe('Moss greenish');
    mine.undo();
    expect([titleOf(mine), hand.shown]).toEqual(['Moss', 'Moss']);
  });

  it('[W1001] blanks at the ends and ends of lines are no part of a name', () => {
    const hand = typing();
    hand.type('  ').blur();
    expect([titleOf(mine), hand.shown]).toEqual(['Moss', 'Moss']);
    hand.come().paste('\ngreen ').blur();
    expect([titleOf(mine), hand.shown]).toEqual(['Moss green', 'Moss green']);
  });
});

describe('caret and selection', () => {
  it('[W1002] stay with their words', () => {
    const hand = typing('a tail');
    hand.come(2);
    say('a very long tail');
    expect(hand.seen).toBe('a very long |tail');
    hand.come(2, 11);
    expect(hand.seen).toBe('a |very long| tail');
    say('for Ada: a very long, thin tail');
    expect(hand.seen).toBe('for Ada: a |very long|, thin tail');
  });

  it('[W1002] a field that nobody types in shows what others wrote', () => {
    const hand = typing();
    hand.blur();
    say('Olive');
    expect(hand.seen).toBe('Olive');
  });

  it('[W1003] while a word is composed nothing is moved or written; then what others wrote comes in', () => {
    const hand = typing('');
    hand.hand.compose(true);
    hand.put('か', 'insertCompositionText');
    say('red');
    clock.turn(LONGEST_MS);
    expect([hand.seen, titleOf(mine)]).toEqual(['か|', 'red']);
    say('dark red');
    hand.put('み', 'insertCompositionText');
    hand.hand.compose(false);
    expect(hand.shown).toContain('かみ');
    expect(hand.shown).toContain('dark red');
    clock.turn(PAUSE_MS);
    expect(titleOf(mine)).toBe(hand.shown);
  });
});

describe('what cannot be written', () => {
  it('[W1004] is refused when it is too long, stays as it is, and is written once it is short enough', () => {
    const hand = typing('');
    hand.paste('x'.repeat(123));
    clock.turn(LONGEST_MS);
    expect([hand.hand.problem, titleOf(mine)]).toEqual([{ kind: 'too-long', over: 3, isJoint: false }, '']);
    hand.blur();
    expect(hand.shown).toHaveLength(123);
    hand.come(0, 3).put('', 'deleteContentBackward');
    expect(hand.hand.problem).toBeNull();
    clock.turn(PAUSE_MS);
    expect(titleOf(mine)).toHaveLength(120);
    // UTF-16 units, as the engine counts them.
    hand.come(0, 120).paste('🪢'.repeat(60)).blur();
    expect([hand.hand.problem, titleOf(mine)]).toEqual([null, '🪢'.repeat(60)]);
  });

  it('[W1004] nothing is cut when two texts are too long only together: who comes later is told and keeps all words', () => {
    [mine.doc.clientID, theirs.doc.clientID] = [7201, 7202];
    const hand = typing('');
    hand.paste(`${'m'.repeat(80)} mine`).blur();
    runAll(theirs, { kind: 'set-title', title: `${'t'.repeat(80)} theirs` });
    meet();
    clock.turn(LONGEST_MS);
    meet();
    expect(titleOf(mine)).toBe(`${'t'.repeat(80)} theirs`);
    expect(titleOf(theirs)).toBe(titleOf(mine));
    expect(hand.hand.problem).toMatchObject({ kind: 'too-long', isJoint: true });
    for (const words of ['mine', 'theirs', 'm'.repeat(80), 't'.repeat(80)])
      expect(hand.shown).toContain(words);
    hand.go();
    expect(hand.left.at(-1)).toBe(hand.hand.text);
  });

  it('[W1005] is nothing where a name has to stand: the one before stays', () => {
    const colourway = { id: 'k', name: 'Kites', colours: [] };
    runAll(mine, { kind: 'put-colourway', colourway });
    const nameNow = (): string => mine.snapshot.board.colourways.find(({ id }) => id === 'k')!.name;
    const hand = new TypingHand(mine, { of: 'colourway', id: 'k' }, clock).come(0, 5);
    hand.put('', 'deleteContentBackward');
    clock.turn(LONGEST_MS);
    expect([hand.hand.problem, nameNow()]).toEqual([{ kind: 'empty' }, 'Kites']);
    hand.blur();
    expect([hand.hand.problem, hand.shown]).toEqual([null, 'Kites']);
    hand.come(0, 5).type('Sand').blur();
    expect([hand.hand.problem, nameNow()]).toEqual([null, 'Sand']);
  });

  it('[W1007] is kept and told when what it names is removed meanwhile, and written when that comes back', () => {
    const id = mine.snapshot.board.palette[0]!.id;
    const other = mine.snapshot.board.palette[1]!.id;
    const hand = new TypingHand(mine, { of: 'colour', id }, clock).come();
    hand.type(' of the river');
    runAll(theirs, { kind: 'remove-colour', id, replaceWith: other });
    meet();
    expect([hand.hand.problem, hand.left.length > 0]).toEqual([{ kind: 'gone' }, true]);
    hand.go();
    expect(hand.hand.text).toMatch(/ of the river$/);
    theirs.undo();
    meet();
    clock.turn(PAUSE_MS);
    expect(hand.hand.problem).toBeNull();
    expect(mine.snapshot.board.palette.find((colour) => colour.id === id)!.name).toMatch(/ of the river$/);
  });

  it('[W1007] what comes back is there as it was, and nothing is written over it', () => {
    runAll(mine, { kind: 'put-colourway', colourway: { id: 'k', name: 'Kites', colours: [] } });
    const hand = new TypingHand(mine, { of: 'colourway', id: 'k' }, clock).come();
    hand.blur();
    runAll(mine, { kind: 'remove-colourway', id: 'k' });
    expect([hand.shown, hand.left]).toEqual(['', []]);
    mine.undo();
    clock.turn(LONGEST_MS);
    expect(hand.shown).toBe('Kites');
    expect(mine.snapshot.board.colourways.find(({ id }) => id === 'k')!.name).toBe('Kites');
  });

  it('[W1000] what one does to a text by a button counts, whatever stood in its field', () => {
    const hand = typing();
    hand.paste('x'.repeat(130)).blur();
    runAll(mine, { kind: 'set-title', title: 'Kites' });
    expect([hand.shown, hand.hand.problem]).toEqual(['Kites', null]);
  });

  it('[W1007] a colour whose name nobody touches goes without a word', () => {
    const [{ id }, other] = mine.snapshot.board.palette as unknown as [{ id: string }, { id: string }];
    const hand = new TypingHand(mine, { of: 'colour', id }, clock).come();
    runAll(theirs, { kind: 'remove-colour', id, replaceWith: other.id });
    meet();
    expect([hand.left, hand.hand.problem]).toEqual([[], null]);
  });
});

describe('undo in a field', () => {
  it('[W1006] takes back one’s own words alone, step by step, and does them again', () => {
    const hand = typing('tail');
    hand.type(' one');
    clock.turn(PAUSE_MS);
    hand.type(' two');
    say('a tail one');
    expect(hand.shown).toBe('a tail one two');
    hand.hand.undo();
    expect(hand.seen).toBe('a tail one|');
    hand.hand.undo();
    expect(hand.seen).toBe('a tail|');
    hand.hand.undo();
    expect(hand.shown).toBe('a tail');
    hand.hand.redo();
    hand.hand.redo();
    expect(hand.shown).toBe('a tail one two');
    hand.blur();
    expect(titleOf(mine)).toBe('a tail one two');
  });

  it('[W1006] letters in a row are one step, a paste is one of its own', () => {
    const hand = typing('');
    hand.type('red').paste(' and').paste(' blue').type('s');
    const seen = [];
    for (let i = 0; i < 4; i++) {
      hand.hand.undo();
      seen.push(hand.shown);
    }
    expect(seen).toEqual(['red and blue', 'red and', 'red', '']);
  });

  it('[W1006] all of it at once goes back to what one came to, with what others wrote', () => {
    const hand = typing('tail');
    hand.type(' one');
    clock.turn(PAUSE_MS);
    hand.type(' two');
    say('a tail one');
    hand.hand.takeBack();
    expect([hand.shown, titleOf(mine)]).toEqual(['a tail', 'a tail']);
  });

  it('[W1006] a step that another wrote over is left as it is', () => {
    const hand = typing('tail');
    hand.type('s');
    clock.turn(PAUSE_MS);
    meet();
    say('tailings');
    hand.hand.undo();
    expect(hand.shown).toBe('tailings');
  });
});

describe('the board is renewed while one types', () => {
  /** The next generation, as the server begins it with what everybody has. */
  const begun = (): Uint8Array => Y.encodeStateAsUpdate(compactDesign(theirs.doc)!);
  /** Goes over to it with what is in hand, as a page does. */
  const goOver = (design: Design, state: Uint8Array, later: readonly Uint8Array[] = []): void => {
    const { doc, began } = nextGeneration(design.doc, { state, later }, true, 'server')!;
    design.moveTo(doc, began);
  };

  it('[W1045] words that are not written stay with their caret, and are written on the next generation', () => {
    const hand = typing();
    hand.come(0).type('dark ');
    goOver(mine, begun());
    expect(hand.seen).toBe('dark |Moss');
    hand.type('old ');
    expect(titleOf(mine)).toBe('Moss');
    clock.turn(PAUSE_MS);
    expect([hand.seen, titleOf(mine)]).toEqual(['dark old |Moss', 'dark old Moss']);
    expect(readDesign(mine.doc).board.title).toBe('dark old Moss');
    hand.blur();
    // It is one step, and can be taken back there.
    expect([mine.undo(), titleOf(mine)]).toEqual([true, 'Moss']);
  });

  it('[W1045] what others write on the next generation meanwhile comes in around them, told before or after one goes over', () => {
    for (const isBefore of [true, false]) {
      [mine, theirs] = [openDesign(), openDesign()];
      theirs = joinDesign(mine, 'n');
      const hand = typing();
      hand.come(0).type('dark ');
      const state = begun();
      goOver(theirs, state);
      runAll(theirs, { kind: 'set-title', title: 'Moss green' });
      const later = Y.encodeStateAsUpdate(theirs.doc);
      goOver(mine, state, isBefore ? [later] : []);
      if (!isBefore) meet();
      expect(hand.seen).toBe('dark |Moss green');
      hand.blur();
      meet();
      expect([titleOf(mine), titleOf(theirs)]).toEqual(['dark Moss green', 'dark Moss green']);
    }
  });

  it('[W1045] a word that is being composed is left alone, and what came meanwhile comes in after it', () => {
    const hand = typing();
    hand.hand.compose(true);
    hand.type(' kusa');
    const state = begun();
    goOver(theirs, state);
    runAll(theirs, { kind: 'set-title', title: 'green Moss' });
    goOver(mine, state, [Y.encodeStateAsUpdate(theirs.doc)]);
    expect(hand.seen).toBe('Moss kusa|');
    hand.hand.compose(false);
    expect(hand.seen).toBe('green Moss kusa|');
    clock.turn(PAUSE_MS);
    expect(titleOf(mine)).toBe('green Moss kusa');
  });

  it('[V505] both wrote while it was renewed: what either has in hand is merged with what the other has saved', () => {
    for (const [a, b] of [
      [7001, 7002],
      [7004, 7003],
    ] as const)
      for (const isHeard of [true, false]) {
        mine = openDesign();
        theirs = joinDesign(mine, 'n');
        [mine.doc.clientID, theirs.doc.clientID] = [a, b];
        runAll(mine, { kind: 'set-title', title: 'Moss' });
        meet();
        const hands = [mine, theirs].map((design) => new TypingHand(design, TITLE, clock));
        hands[0]!.come(0).type('dark ').blur();
        hands[1]!.come().type(' green');
        if (isHeard) hands[1]!.blur();
        // The server has what the one wrote; what the other wrote at the same time it takes no more.
        const state = Y.encodeStateAsUpdate(compactDesign(mine.doc)!);
        Y.applyUpdate(theirs.doc, Y.encodeStateAsUpdate(mine.doc), 'remote');
        goOver(mine, state);
        goOver(theirs, state);
        hands[1]!.blur();
        meet();
        clock.turn(0);
        meet();
        expect([a, isHeard, titleOf(mine), titleOf(theirs)]).toEqual([
          a,
          isHeard,
          'dark Moss green',
          'dark Moss green',
        ]);
      }
  });

  it('[V505] what one has in hand and another wrote on the next generation: both stand there', () => {
    for (const [a, b] of [
      [7001, 7002],
      [7004, 7003],
    ] as const)
      for (const isBefore of [true, false]) {
        mine = openDesign();
        theirs = joinDesign(mine, 'n');
        [mine.doc.clientID, theirs.doc.clientID] = [a, b];
        runAll(mine, { kind: 'set-title', title: 'Moss' });
        meet();
        const hand = new TypingHand(mine, TITLE, clock).come(0);
        const other = new TypingHand(theirs, TITLE, clock);
        const state = begun();
        hand.type('dark ').blur();
        goOver(theirs, state);
        other.come().type(' green').blur();
        goOver(mine, state, isBefore ? [Y.encodeStateAsUpdate(theirs.doc)] : []);
        meet();
        clock.turn(0);
        meet();
        expect([a, isBefore, titleOf(mine), titleOf(theirs)]).toEqual([
          a,
          isBefore,
          'dark Moss green',
          'dark Moss green',
        ]);
      }
  });

  it('[W1007] what one types into is gone there: the words are given back', () => {
    runAll(mine, { kind: 'add-colour', id: 'reed', name: 'reed', hex: '#aabb77' });
    meet();
    const hand = new TypingHand(mine, { of: 'colour', id: 'reed' }, clock).come();
    hand.type(' of the river');
    const state = begun();
    goOver(theirs, state);
    runAll(theirs, { kind: 'remove-colour', id: 'reed', replaceWith: 'r' });
    goOver(mine, state, [Y.encodeStateAsUpdate(theirs.doc)]);
    expect([hand.hand.problem?.kind, hand.hand.isLeft, hand.hand.text]).toEqual([
      'gone',
      true,
      'reed of the river',
    ]);
  });
});
