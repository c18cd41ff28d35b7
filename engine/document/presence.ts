/** What each person in a room tells the others about themselves. Never stored. */

/** A knot addressed by ids, so that it stays put when others insert or delete. `seam` = between this string pair and the next. */
export interface KnotAddress {
  readonly rowPair: string;
  readonly stringPair: string;
  readonly half: 'inside' | 'seam';
}

/** A row addressed by its pair. `inside`: the row of knots inside the string pairs, `seam`: the row between them. */
export interface RowAddress {
  readonly rowPair: string;
  readonly half: 'inside' | 'seam';
}

/** A string addressed by its pair: the left (0) or the right one (1). */
export interface StringAddress {
  readonly stringPair: string;
  readonly side: 0 | 1;
}

/**
 * By what a name or a colour that two people carry stays with one of them: whoever came first, and whoever chose a name.
 * Who shows none gives nothing up.
 */
export interface Seat {
  /** When this person came, in ms, and later than everybody they found there, whatever their clock says. */
  readonly since: number;
  /** Whether the name is one that they chose. */
  readonly isNamed: boolean;
}

export const OPENED_KINDS = ['colourway', 'version'] as const;

/** What somebody has open, so that nobody removes it unasked. */
export interface Opened {
  readonly kind: (typeof OPENED_KINDS)[number];
  readonly id: string;
}

/** What one person at the board shows the others; never stored. */
export interface Presence {
  readonly person: { readonly id: string; readonly name: string; readonly hex: string };
  /** Where the pointer or keyboard cursor is; null when off the board. */
  readonly cursor: KnotAddress | null;
  /** Opposite corners of the selected block; null when nothing is selected. */
  readonly selection: { readonly from: KnotAddress; readonly to: KnotAddress } | null;
  /** First and last row on this person's screen. */
  readonly view: { readonly fromRow: number; readonly toRow: number } | null;
  /** Not there: as earlier releases, and other programs, say nothing of it. */
  readonly seat?: Seat;
  /** What of the board they have open beside it; not there or null: nothing. */
  readonly open?: Opened | null;
}
