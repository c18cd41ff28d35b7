/**
 * One text of a design, for whoever writes it together with others: what stands there now, and what others make of it.
 *
 * A value is written whole. Where two write at once one value stands; the page of the other has its own words put into that one again, and
 * writes both (D344).
 */
import type * as Y from 'yjs';
import { plainText } from '../../pattern/index.ts';
import type { CommandError } from '../command.ts';
import type { BareDesign as Design } from '../design.ts';
import type { DesignSnapshot } from '../read-design.ts';
import { readScope, rootsOf } from '../schema.ts';
import { mergeTexts } from './merge-texts.ts';
import { LATER_COMMANDS } from '../later-commands.ts';
import { OwnWrites } from './own-writes.ts';
import {
  isAlike,
  isTaken,
  mostUnits,
  placeName,
  readText,
  type TextPlace,
  textCommand,
  textKey,
} from './text-place.ts';

/**
 * Told of what stands there now (null = it is gone), and of that with what was written here that its writer knew nothing of.
 * `isOwn`: it was changed by this page itself, by other means than writing here.
 */
export type TextListener = (now: string | null, joint: string, isOwn: boolean) => void;

/** A text that several write, wherever it is kept. */
export interface TextSource {
  /** What it is called among those of its board. */
  readonly name: string;
  /** The most UTF-16 units that it may have. */
  readonly most: number;
  readonly isMultiline: boolean;
  /** Whether nothing may stand there. */
  readonly mayBeEmpty: boolean;
  /** What stands there, as a field shows it; null = there is no such thing any more. */
  readonly text: string | null;
  /** A text as it would be kept. */
  fit(text: string): string;
  /** Writes a text that fits. @returns why not; null = it stands there */
  write(text: string): TextRefusal | null;
  /**
   * Calls the listener after each change that was not written here. Where `joint` differs from `now` it is to be written.
   * @returns stops it
   */
  listen(listener: TextListener): () => void;
  /** What is written until the returned function is called is one step of undo. */
  openStep(): () => void;
}

/** Why a text was not written: its place is gone, it is the name of another colour that looks otherwise, or of one beside it, or a command said no. */
export type TextRefusal =
  | { readonly kind: 'gone' }
  | { readonly kind: 'of-another'; readonly name: string }
  | { readonly kind: 'alike'; readonly name: string }
  | { readonly kind: 'refused'; readonly error: CommandError };

const LINE_END = /\r\n?/g;
const LINE_ENDS = /[\r\n]+/g;

/** @returns one text of a design, the same for whoever asks for that place */
export function designText(design: Design, place: TextPlace): TextSource {
  const texts = known.get(design) ?? new Map<string, DesignText>();
  known.set(design, texts);
  const name = placeName(place);
  const text = texts.get(name) ?? new DesignText(design, place);
  texts.set(name, text);
  return text;
}

const known = new WeakMap<Design, Map<string, DesignText>>();

class DesignText implements TextSource {
  readonly name: string;
  readonly most: number;
  readonly isMultiline: boolean;
  readonly mayBeEmpty: boolean;
  readonly #design: Design;
  readonly #place: TextPlace;
  readonly #listeners = new Set<TextListener>();
  #text: string | null;
  #own = new OwnWrites();
  #scope: string;
  #isWriting = false;

  constructor(design: Design, place: TextPlace) {
    this.#design = design;
    this.#place = place;
    this.name = placeName(place);
    this.most = mostUnits(place);
    this.isMultiline = place.of === 'notes';
    this.mayBeEmpty = place.of !== 'colourway' && place.of !== 'colour';
    design.giveCommands(LATER_COMMANDS);
    this.#text = this.#read(design.snapshot);
    this.#scope = this.#readScope();
    // Behind the design's own listener, so that its snapshot is of after the change.
    design.doc.on('afterTransaction', this.#onTransaction);
    // The former document is not touched again.
    design.onMove((began) => {
      design.doc.on('afterTransaction', this.#onTransaction);
      this.#goOn(began);
    });
  }

  get text(): string | null {
    return this.#text;
  }

  fit(text: string): string {
    const whole = plainText(text);
    return this.isMultiline ? whole.replace(LINE_END, '\n') : whole.replace(LINE_ENDS, ' ').trim();
  }

  write(text: string): TextRefusal | null {
    const before = this.#text;
    const command = before === null ? null : textCommand(this.#design.snapshot.board, this.#place, text);
    if (before === null || command === null) return { kind: 'gone' };
    if (isTaken(this.#design.snapshot.board, this.#place, text)) return { kind: 'of-another', name: text };
    if (isAlike(this.#design.snapshot.board, this.#place, text)) return { kind: 'alike', name: text };
    this.#isWriting = true;
    try {
      const result = this.#design.run(command);
      if (!result.ok) return { kind: 'refused', error: result.error };
    } finally {
      this.#isWriting = false;
    }
    this.#text = this.#read(this.#design.snapshot);
    this.#own.note(this.#design.doc, ...this.#key, { before, after: this.#text ?? '' });
    return null;
  }

  listen(listener: TextListener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  openStep(): () => void {
    return this.#design.openStep();
  }

  get #key(): readonly [Y.Map<unknown>, string] {
    const { doc } = this.#design;
    const scope = readScope(this.#scope) ?? { board: '', pattern: '' };
    return textKey(rootsOf(doc), scope, this.#place);
  }

  #read({ board }: DesignSnapshot): string | null {
    const text = readText(board, this.#place);
    return text === null
      ? null
      : text.replace(this.isMultiline ? LINE_END : LINE_ENDS, this.isMultiline ? '\n' : ' ');
  }

  #readScope(): string {
    return String(rootsOf(this.#design.doc).meta.get('generation'));
  }

  /**
   * What was in hand is in the new document already, over what the ended generation held; that may be of somebody who wrote at the same time.
   * And what others wrote in the new one may be news, or have won over what was in hand. Rule V505.
   */
  #goOn(began: DesignSnapshot | null): void {
    const before = this.#text;
    const stood = began === null ? null : this.#read(began);
    const own = this.#own;
    this.#scope = this.#readScope();
    this.#own = new OwnWrites();
    const now = this.#read(this.#design.snapshot);
    this.#text = now;
    let joint = now ?? '';
    if (before !== null && stood !== null && before !== stood && !own.isEmpty) {
      const { doc } = this.#design;
      const [map, key] = this.#key;
      const from = own.baseFor(stood);
      // Both people's words, as this page would have had them.
      const whole = from === null ? before : this.#merge(from, stood, before);
      this.#own.noteCarried(doc, map, key, { before: stood, after: whole });
      const lost = this.#own.takeLost(doc, map, key);
      joint = lost.length === 0 ? this.#merge(before, joint, whole) : this.#merge(stood, joint, whole);
    }
    if (now === before && joint === (now ?? '')) return;
    for (const listener of [...this.#listeners]) listener(now, joint, false);
  }

  #merge(before: string, theirs: string, mine: string): string {
    return mergeTexts(before, theirs, mine, { isMultiline: this.isMultiline }).text;
  }

  readonly #onTransaction = ({ changed, local }: Y.Transaction): void => {
    if (this.#isWriting) return;
    const before = this.#text;
    const scope = this.#readScope();
    if (scope !== this.#scope) {
      // What was written to another board is no part of this one.
      this.#scope = scope;
      this.#own = new OwnWrites();
    }
    const { doc } = this.#design;
    const [map, key] = this.#key;
    // Yjs takes in that a value was overwritten before it has all that the new one builds on.
    if (map._map.get(key)?.deleted === true && doc.store.pendingStructs !== null) return;
    this.#text = this.#read(this.#design.snapshot);
    const isMeant = (changed as ReadonlyMap<unknown, ReadonlySet<string | null>>).get(map)?.has(key) === true;
    let joint = this.#text ?? '';
    if (isMeant)
      for (const own of this.#own.takeLost(doc, map, key)) joint = this.#merge(own.before, joint, own.after);
    if (this.#text === before && joint === (before ?? '')) return;
    for (const listener of [...this.#listeners]) listener(this.#text, joint, local);
  };
}
