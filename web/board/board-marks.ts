/** What lies over the pattern just now: the maker's own marks, and where the others are. */
import { blockOf, type Cell, type Stagger } from '../../engine/index.ts';
import type { BoardSession } from '../sync/index.ts';
import type { OtherMaker } from './draw-others.ts';
import type { Overlay } from './draw-overlay.ts';
import type { Editor } from './editor.ts';
import type { Lit } from './lit-set.ts';

export interface MarksSource {
  readonly editor: Editor;
  /** Whether strings are shown as ribbons. */
  readonly isPaths: boolean;
  /** What panels light up. */
  readonly lit: Lit | null;
  readonly hover: Cell | null;
  /** The string under the pointer. */
  readonly hoverString: number | null;
  /** Whether the keyboard is on the knots, seen. */
  readonly hasFocus: boolean;
}

export function overlayOf({ editor, isPaths, lit, hover, hoverString, hasFocus }: MarksSource): Overlay {
  const { mirror, spot, tool } = editor;
  const isTying = editor.canEdit && (tool === 'tie' || tool === 'line' || tool === 'fill');
  const strings = [editor.traced, isPaths ? hoverString : null].filter((string) => string !== null);
  return {
    hover: tool === 'pan' ? null : hover,
    ink: isTying && !editor.isInStroke ? editor.ink : null,
    isFilling: tool === 'fill',
    mirror,
    cursor: editor.cursor,
    peg: spot.on === 'peg' ? spot.place : null,
    hasFocus,
    selection: editor.selection,
    shift: editor.shift,
    preview: editor.preview,
    lit: strings.length > 0 ? { ...lit, strings } : lit,
    isPaths,
  };
}

/** In which those are drawn who were not heard since the line broke. */
const UNHEARD_HEX = '#808080';

/** The other makers' knots and selections, where those are on the board now. */
export function othersOf({ design, people }: BoardSession, stagger: Stagger): readonly OtherMaker[] {
  return people.value.flatMap(({ self, isUnheard, presence }) => {
    if (self) return [];
    const { person, cursor, selection } = presence;
    const from = selection && design.placeOf(selection.from);
    const to = selection && design.placeOf(selection.to);
    const block = from !== null && to !== null ? blockOf(stagger, from, to) : null;
    const hex = isUnheard ? UNHEARD_HEX : person.hex;
    return [{ name: person.name, hex, at: cursor && design.placeOf(cursor), selection: block }];
  });
}
