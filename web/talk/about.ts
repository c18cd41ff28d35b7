/** What can be talked about, what a thread is about, and what of the board that lights. */
import { addressOfEntry, type EntryPlace, type Pin } from '../../engine/document/index.ts';
import { knotsIn, staggerOf } from '../../engine/index.ts';
import { type Lit, panelName } from '../board/index.ts';
import { t } from '../text/index.ts';
import type { TalkDesk } from './talk-desk.ts';
import { placeName, TALKED_PANELS } from './talk-words.ts';

/** What of the talk says where somebody is, and what is there. */
type WhereAsked = Pick<TalkDesk, 'spot' | 'design' | 'placeOf' | 'entries'>;

/** What the next thread can be about, as values and names: the board, where one is, the panels. */
export function aboutChoices(desk: WhereAsked): readonly (readonly [string, string])[] {
  return [
    ['board', t('talk.about.board')],
    ...aboutHere(desk),
    ...TALKED_PANELS.map(
      (id) =>
        [
          `panel:${id}`,
          t('talk.about.panel', { name: panelName(id, desk.design.snapshot.board.piece) }),
        ] as const,
    ),
  ];
}

function aboutHere(desk: WhereAsked): readonly (readonly [string, string])[] {
  const { spot } = desk;
  const string = (place: number): string => t('talk.about.string', { string: place + 1 });
  switch (spot?.on) {
    case undefined:
      return [];
    case 'peg':
      return [['peg', string(spot.place)]];
    case 'entry': {
      // Only while there is such an entry.
      const pin = entryPin(desk);
      return pin === null ? [] : [['entry', placeName(desk, pin)]];
    }
    case 'knot':
      return [
        ['knot', t('talk.about.knot', { row: spot.row + 1, k: spot.k + 1 })],
        ['row', t('talk.about.row', { row: spot.row + 1 })],
        ['left', string(spot.left)],
        ['right', string(spot.right)],
      ];
  }
}

/** The pin of one of the choices; the board where the place is gone meanwhile. */
export function pinAbout(desk: WhereAsked, about: string): Pin {
  const { spot, design } = desk;
  if (about.startsWith('panel:')) return { kind: 'panel', entry: about.slice(6) };
  const string = (place: number): Pin | null => {
    const address = design.stringAddressOf(place);
    return address && { kind: 'string', address };
  };
  let pin: Pin | null = null;
  if (about === 'entry') pin = entryPin(desk);
  if (spot?.on === 'peg' && about === 'peg') pin = string(spot.place);
  if (spot?.on === 'knot') {
    const knot = design.addressOf(spot.row, spot.k);
    const row = design.rowAddressOf(spot.row);
    if (about === 'knot') pin = knot && { kind: 'knot', address: knot };
    else if (about === 'row') pin = row && { kind: 'row', address: row };
    else if (about === 'left' || about === 'right') pin = string(spot[about]);
  }
  return pin ?? { kind: 'board' };
}

function entryPin({ spot, design }: WhereAsked): Pin | null {
  if (spot?.on !== 'entry') return null;
  const of = addressOfEntry(design, spot.at);
  return of && { kind: 'panel', entry: spot.panel, of };
}

/** What of the board a thread is about; null where it is about nothing that can be lit. */
export function litOfPin(desk: WhereAsked, pin: Pin): Lit | null {
  const at = desk.placeOf(pin);
  if (at.kind === 'board' || at.kind === 'panel' || at.place === null) return null;
  const { pattern } = desk.design.snapshot.board;
  switch (at.kind) {
    case 'knot':
      return { knots: [at.place] };
    case 'string':
      return { strings: [at.place] };
    case 'entry':
      return litOfEntry(at.place, pattern.colours);
    case 'row': {
      const row = at.place;
      return { knots: Array.from({ length: knotsIn(staggerOf(pattern), row) }, (_, k) => ({ row, k })) };
    }
  }
}

function litOfEntry(at: EntryPlace, colours: readonly string[]): Lit | null {
  switch (at.on) {
    case 'string':
      return { strings: [at.string] };
    case 'strings':
      return { strings: [at.left, at.right] };
    case 'knot':
      return { knots: [{ row: at.row, k: at.k }] };
    case 'colour':
      return { strings: [...colours.keys()].filter((string) => colours[string] === at.id) };
    case 'value':
      return null;
  }
}
