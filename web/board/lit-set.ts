/** What a panel asks the board to light up. */
export interface Lit {
  /** Strings by their place at the top, from 0. */
  readonly strings?: readonly number[];
  readonly knots?: readonly { readonly row: number; readonly k: number }[];
  /** Whether the board moves so that the first of the knots is in sight: for steps, not for pointing. */
  readonly isFollowed?: boolean;
  /** Folded strings by the two places they serve: their arcs and pegs. */
  readonly folds?: readonly { readonly left: number; readonly right: number }[];
}
