/** The browser's field as a text in hand sees it: its events, its selection, and never its own undo. */
import { beforeEach, describe, expect, it } from 'vitest';
import { designText, type Design, type TextPlace } from '../../../engine/document/index.ts';
import { TextInHand } from '../../../web/writing/text-in-hand.ts';
import { type Box, TypedField } from '../../../web/writing/typed-field.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { joinDesign, openDesign, runAll, syncAll } from '../../support/open-design.ts';

/** A field that moves its caret to the end when its text is set, as browsers do. */
class StubBox implements Box {
  selectionStart = 0;
  selectionEnd = 0;
  selectionDirection: Box['selectionDirection'] = 'none';
  scrollTop = 12;
  #value = '';

  get value(): string {
    return this.#value;
  }

  set value(value: string) {
    this.#value = value;
    this.scrollTop = 0;
    this.setSelectionRange(value.length, value.length);
  }

  setSelectionRange(
    start: number | null,
    end: number | null,
    direction?: 'forward' | 'backward' | 'none',
  ): void {
    this.selectionStart = start ?? 0;
    this.selectionEnd = end ?? 0;
    this.selectionDirection = direction ?? 'none';
  }
}

let design: Design;
let other: Design;
let box: StubBox;
let field: TypedField;
let entered: number;
let clock: HandClock;

function show(place: TextPlace): TextInHand {
  const hand = new TextInHand(designText(design, place), clock.after, () => {});
  field.follow(hand);
  return hand;
}
const event = (more: object): never => ({ preventDefault() {}, ...more }) as never;
/** Whether the browser was kept from it. */
function isPrevented(listener: (event: never) => void, more: object): boolean {
  let prevented = false;
  listener(
    event({
      preventDefault: () => {
        prevented = true;
      },
      ...more,
    }),
  );
  return prevented;
}
function type(text: string, inputType = 'insertText'): void {
  const { selectionStart: start, selectionEnd: end } = box;
  const caret = start + text.length;
  box.value = box.value.slice(0, start) + text + box.value.slice(end);
  box.setSelectionRange(caret, caret);
  field.onInput(event({ inputType }));
}
const key = (name: string, more: object = {}): boolean =>
  isPrevented(field.onKey, {
    key: name,
    ctrlKey: false,
    metaKey: false,
    shiftKey: false,
    altKey: false,
    isComposing: false,
    ...more,
  });

beforeEach(() => {
  clock = new HandClock();
  design = openDesign();
  runAll(design, { kind: 'set-title', title: 'a tail' });
  other = joinDesign(design, 'n');
  box = new StubBox();
  entered = 0;
  field = new TypedField({
    box,
    onSaid: () => {},
    onEnter: () => {
      entered += 1;
    },
  });
});

describe('a field of the browser', () => {
  it('[W1002] keeps selection, its direction and how far it was scrolled when others write', () => {
    show({ of: 'title' });
    field.onFocus();
    box.setSelectionRange(2, 6, 'backward');
    box.scrollTop = 12;
    runAll(other, { kind: 'set-title', title: 'such a long tail' });
    syncAll(design, other);
    expect(box.value).toBe('such a long tail');
    expect([box.selectionStart, box.selectionEnd, box.selectionDirection, box.scrollTop]).toEqual([
      12,
      16,
      'backward',
      12,
    ]);
    field.onBlur();
    expect(field.selection()).toBeNull();
  });

  it('[W1006] is kept from its own undo, by key, by menu and where it cannot be asked', () => {
    const hand = show({ of: 'title' });
    field.onFocus();
    type('s');
    expect(key('z', { ctrlKey: true })).toBe(true);
    expect(box.value).toBe('a tail');
    expect(key('Z', { metaKey: true, shiftKey: true })).toBe(true);
    expect(box.value).toBe('a tails');
    expect(isPrevented(field.onBeforeInput, { inputType: 'historyUndo' })).toBe(true);
    expect(box.value).toBe('a tail');
    expect(key('y', { ctrlKey: true })).toBe(true);
    expect(isPrevented(field.onBeforeInput, { inputType: 'insertText' })).toBe(false);
    // Something else already stands there.
    box.value = 'an older text';
    field.onInput(event({ inputType: 'historyUndo' }));
    expect([box.value, hand.text]).toEqual(['a tail', 'a tail']);
    expect(key('z')).toBe(false);
  });

  it('[W1001] Enter writes a text of one line, and is a new line in notes', () => {
    show({ of: 'title' });
    field.onFocus();
    type('s');
    key('Enter');
    expect([design.snapshot.board.title, entered]).toEqual(['a tails', 1]);
    show({ of: 'notes' });
    key('Enter');
    expect(entered).toBe(1);
  });

  it('[W1006] Escape takes back what was typed in a text of one line, and nothing where nothing was', () => {
    show({ of: 'title' });
    field.onFocus();
    expect(key('Escape')).toBe(false);
    type('s and more');
    expect(key('Escape')).toBe(true);
    expect(box.value).toBe('a tail');
  });

  it('[W1003] keys of an input method are its own', () => {
    const hand = show({ of: 'title' });
    field.onFocus();
    field.onCompositionStart();
    type('ka', 'insertCompositionText');
    expect(key('Enter', { isComposing: true })).toBe(false);
    expect(key('Escape', { isComposing: true })).toBe(false);
    box.value = 'a tailか';
    field.onCompositionEnd();
    expect(hand.text).toBe('a tailか');
  });

  it('[W1001] that shows another text, or goes, writes what was typed in it', () => {
    show({ of: 'title' });
    field.onFocus();
    type('s');
    show({ of: 'notes' });
    expect([design.snapshot.board.title, box.value]).toEqual(['a tails', '']);
    type('red');
    field.follow(null);
    expect(design.snapshot.board.piece.notes).toBe('red');
  });
});
