/** Entries of the panels in words, and whether their panel still has them. */
import { COST_VALUES, type EntryPlace, type PinPlace } from '../../engine/document/index.ts';
import {
  type Board,
  cordsWithoutRing,
  knotsIn,
  mirrorBreaks,
  planBoard,
  rowStride,
  staggerOf,
} from '../../engine/index.ts';
import { type TextKey, t } from '../text/index.ts';
import { readUnit } from '../units/index.ts';

/** A pin to an entry, with where that is. */
export type PinnedEntry = Extract<PinPlace, { kind: 'entry' }>;

/** Boards of more knots are not looked through for what breaks their mirror: it would be done at each edit. */
const MOST_KNOTS_MIRRORED = 60_000;

/** What the panels have of a board now; each is worked out when it is first asked for, and once. */
export class EntriesOf {
  readonly #board: Board;
  #plan: ReadonlySet<string> | null = null;
  #breaks: ReadonlySet<string> | null | undefined;

  constructor(board: Board) {
    this.#board = board;
  }

  /** Whether a panel still has an entry whose knot, strings or colour are there. */
  has(panel: string, at: EntryPlace): boolean {
    const { pattern } = this.#board;
    switch (at.on) {
      case 'string':
        return this.#planned().has(`${at.string}`);
      case 'strings':
        if (panel !== 'symmetry') return this.#planned().has(`${at.left} ${at.right}`);
        return pattern.colours[at.left] !== pattern.colours[at.right];
      case 'knot':
        if (panel !== 'symmetry')
          return pattern.knots[at.row * rowStride(pattern.colours.length) + at.k] !== 0;
        return this.#broken()?.has(`${at.row}:${at.k}`) ?? true;
      case 'colour':
        return true;
      case 'value':
        // What the piece costs stands in a panel of its own by now.
        return panel !== 'piece' || !COST_VALUES.has(at.name);
    }
  }

  #planned(): ReadonlySet<string> {
    if (this.#plan === null) {
      const { folds, singles } = cordsWithoutRing(this.#board) ?? planBoard(this.#board);
      this.#plan = new Set([...folds.map(({ left, right }) => `${left} ${right}`), ...singles.map(String)]);
    }
    return this.#plan;
  }

  /** Null where there are too many knots to look. */
  #broken(): ReadonlySet<string> | null {
    if (this.#breaks === undefined) {
      const { pattern } = this.#board;
      const isTooLarge = pattern.rows * (pattern.colours.length >> 1) > MOST_KNOTS_MIRRORED;
      this.#breaks = isTooLarge ? null : brokenIn(this.#board);
    }
    return this.#breaks;
  }
}

/** Both knots of each break: which of the two is talked about does not matter. */
function brokenIn({ pattern }: Board): ReadonlySet<string> {
  const stagger = staggerOf(pattern);
  const broken = new Set<string>();
  for (const found of mirrorBreaks(pattern))
    if (found.of !== 'order') {
      broken.add(`${found.row}:${found.k}`);
      broken.add(`${found.row}:${knotsIn(stagger, found.row) - 1 - found.k}`);
    }
  return broken;
}

/** The same for an entry wherever it is asked for. */
export function entryKey(panel: string, at: EntryPlace): string {
  switch (at.on) {
    case 'string':
      return `${panel} string ${at.string}`;
    case 'strings':
      return `${panel} strings ${at.left} ${at.right}`;
    case 'knot':
      return `${panel} knot ${at.row} ${at.k}`;
    case 'colour':
      return `${panel} colour ${at.id}`;
    case 'value':
      return `${panel} value ${at.name}`;
  }
}

/** What an entry that is there is called, without its panel. */
export function entryName(panel: string, at: EntryPlace, board: Board): string {
  switch (at.on) {
    case 'string':
      return t('talk.entry.string', { string: at.string + 1 });
    case 'strings':
      return t(panel === 'symmetry' ? 'talk.entry.order' : 'talk.entry.strings', {
        left: at.left + 1,
        right: at.right + 1,
      });
    case 'knot':
      return t(panel === 'symmetry' ? 'talk.entry.break' : 'talk.entry.step', {
        row: at.row + 1,
        k: at.k + 1,
      });
    case 'colour':
      return t('talk.entry.colour', {
        name: board.palette.find(({ id }) => id === at.id)?.name || at.id,
      });
    case 'value':
      return t(`${panel === 'cost' ? 'piece' : panel}.${at.name}` as TextKey, { unit: readUnit() });
  }
}

/** An entry in words, with its panel; one that is gone, or that its panel has no longer, says so. */
export function pinnedEntryName(
  { panel, of, place }: PinnedEntry,
  board: Board,
  entries: EntriesOf,
  panelName: string,
): string {
  const within = (entry: string): string => t('talk.entry.in', { entry, name: panelName });
  if (place === null) {
    const kind = of.on === 'knot' && panel === 'symmetry' ? 'break' : of.on;
    return within(t(`talk.gone.entry.${kind}` as TextKey));
  }
  const name = entryName(panel, place, board);
  return within(entries.has(panel, place) ? name : t('talk.entry.noLonger', { entry: name }));
}
