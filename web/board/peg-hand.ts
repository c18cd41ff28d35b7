/** What a hand does with pegs and strings: gives pegs a colour along one stroke, takes hold of one and puts it elsewhere, follows a string. */
import { type ColourId, stringPath } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import type { Editor } from './editor.ts';
import { movedBeside, movedOrder } from './peg-orders.ts';
import { recolourings } from './recolourings.ts';

interface PegHost {
  readonly editor: Editor;
  tellColour(colour: string | null): void;
  say(text: string): void;
}

/** Hangs the colours so, as one step of undo. @returns whether that was done */
export function hang(editor: Editor, colours: readonly ColourId[]): boolean {
  const close = editor.design.openStep();
  try {
    return recolourings(editor.model.board.pattern.colours, colours).every((command) => editor.run(command));
  } finally {
    close();
  }
}

/**
 * Puts the peg of a place in at another one; the keyboard goes with it. Where tying is mirrored about the middle, the peg beside it does the same,
 * and neither goes over the middle.
 * @returns where it is now
 */
export function movePeg(editor: Editor, from: number, to: number): number {
  const { mirror, model } = editor;
  const { colours } = model.board.pattern;
  const last = colours.length - 1;
  const isMirrored = mirror.upright === 'middle';
  const isLeft = 2 * from < last;
  const [least, most] = !isMirrored
    ? [0, last]
    : isLeft
      ? [0, Math.ceil(last / 2) - 1]
      : [Math.floor(last / 2) + 1, last];
  const at = Math.max(least, Math.min(most, to));
  const order = isMirrored ? movedBeside(colours, from, at) : movedOrder(colours, from, at);
  if (at === from || !hang(editor, order)) return from;
  editor.moveTo({ on: 'peg', place: at });
  return at;
}

/**
 * From the press on a peg until it is let go of: one step of undo. With a colour in hand pegs on the way take it; without, and with the tool for
 * blocks, the peg is put elsewhere. One that is only tapped takes the colour in hand.
 */
export class PegStroke {
  readonly #editor: Editor;
  readonly #strings: number;
  readonly #does: 'paint' | 'move' | 'pick';
  readonly #close: () => void;
  readonly #before: unknown;
  #at: number;
  #hasGone = false;

  constructor(host: PegHost, place: number) {
    const { editor } = host;
    this.#editor = editor;
    this.#strings = editor.model.strings;
    this.#at = place;
    editor.moveTo({ on: 'peg', place });
    this.#does =
      editor.tool === 'pick'
        ? 'pick'
        : editor.colour === null || editor.tool === 'select' || !editor.canEdit
          ? 'move'
          : 'paint';
    this.#close = editor.design.openStep();
    this.#before = editor.design.snapshot;
    if (this.#does === 'paint') editor.recolour(place);
    if (this.#does !== 'pick') return;
    const colour = editor.model.board.pattern.colours[place] ?? null;
    editor.chooseColour(colour);
    host.tellColour(colour);
  }

  /** @param place as far as the pointer is, also beside the pegs */
  drag(place: number): void {
    const editor = this.#editor;
    // Others put in or took out strings: it is not known any more which one is in hand.
    if (editor.model.strings !== this.#strings || !editor.canEdit) return;
    const to = Math.max(0, Math.min(this.#strings - 1, place));
    if (to === this.#at) return;
    this.#hasGone = true;
    if (this.#does === 'move') this.#at = movePeg(editor, this.#at, to);
    else if (this.#does === 'paint') {
      const step = Math.sign(to - this.#at);
      while (this.#at !== to) {
        this.#at += step;
        editor.recolour(this.#at);
      }
      editor.moveTo({ on: 'peg', place: to });
    }
  }

  /** @param takesBack whether what it did is undone */
  end(takesBack = false): void {
    if (this.#does === 'move' && !this.#hasGone && !takesBack) this.#editor.recolour(this.#at);
    this.#close();
    if (takesBack && this.#does !== 'pick' && this.#editor.design.snapshot !== this.#before)
      this.#editor.design.undo();
  }
}

/** Puts the peg that the keyboard is on so many places further. */
export function movePegHere({ editor }: PegHost, by: number): void {
  const { spot } = editor;
  if (spot.on === 'peg') movePeg(editor, spot.place, spot.place + by);
}

/** Follows a string, or lets go of it, and says where it goes. */
export function traceString(host: PegHost, string: number): void {
  const { editor } = host;
  editor.trace(string);
  if (editor.traced === null) return;
  const { model } = editor;
  const { shown, places } = stringPath(model.board.pattern, model.weave, string);
  const values = { string: string + 1, colour: model.names[string] as string, shown: shown.length };
  host.say(t('board.say.traced', { ...values, place: (places[model.rows] as number) + 1 }));
}
