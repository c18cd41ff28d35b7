/** A board: a pattern with its palette and all that says what is to be made of it. Plain data, units in the names. */
import type { ColourId, Pattern } from './pattern.ts';

/** A colour of the palette. */
export interface PaletteColour {
  readonly id: ColourId;
  /** The maker's own name for it. */
  readonly name: string;
  /** sRGB, `#rrggbb`, lower case. */
  readonly hex: string;
}

/** How the rows at the bottom end; see engine/finish. */
export type EndKind = 'straight' | 'triangle' | 'double triangle';
/** What closes the strings that hang below the last row. */
export type EndKnot = 'overhand' | 'tassel' | 'braid' | 'none';
/** What the band hangs from: a round ring, or a ring with a straight bar. */
export type RingKind = 'round' | 'd-ring';

/**
 * How the band begins: on the ring or bar that it hangs from; with loose ends; with a loop, all cords folded over it in one bundle; or with
 * loose ends laid straight over a stick, which is drawn out once the first rows hold.
 */
export type BeginKind = 'ring' | 'loose' | 'loop' | 'stick';
/** What stands between loose ends or loop and the first row. */
export type HeadKnot = 'overhand' | 'braid' | 'none';

/** What is made: how long, how it ends, what it hangs from. Everything absent is unset and takes the default named. */
export interface Piece {
  /** Repeats of the rows, 1 or more; default 1. At most one of `repeats` and `lengthMm` is set. */
  readonly repeats?: number;
  /** Length in mm, above 0: of what `lengthOf` says. */
  readonly lengthMm?: number;
  /** Of the tied band, or of the whole piece with what is above and below it; default 'band'. */
  readonly lengthOf?: 'band' | 'whole';
  /** Whether a piece of that length stops at the nearest row, or at the nearest one that looks finished; default 'row'. */
  readonly stopAt?: 'row' | 'finished';
  /** First rows of the pattern that are a lead-in: worked once, above the repeats. 0 to its rows; default 0. */
  readonly leadInRows?: number;
  /**
   * Which strings are mounted with one long end: 'forced', only those that odd colour counts force; 'free', as many as it takes
   * that no two strings cross. Default 'forced'.
   */
  readonly singles?: 'forced' | 'free';
  /** Default 'ring'. What is said of ring and singles counts with a ring alone, of head and loop without one alone. */
  readonly begin?: BeginKind;
  /** What stands above the first row; default 'braid', with a loop 'overhand'. */
  readonly headKnot?: HeadKnot;
  /** String for it above the first row, in mm, a loop left out; default in engine/material. */
  readonly headMm?: number;
  /** Height of the loop, laid flat, in mm, above 0; default in engine/material. */
  readonly loopMm?: number;
  /** Default 'straight'. */
  readonly end?: EndKind;
  /** What closes the hanging strings; default 'overhand', of a band without a ring 'braid'. */
  readonly endKnot?: EndKnot;
  /** String left hanging below the last row, for knot or tassel, in mm; default in engine/material. */
  readonly tailMm?: number;
  /** Spare per end for handling, in mm; default in engine/material. */
  readonly spareMm?: number;
  /** Cut so much longer, for what is not sure about the gauge, that about one cord in so many comes out short; default: nothing is added. */
  readonly shortOneIn?: number;
  readonly ring?: RingKind;
  /** Usable width of the bar (d-ring) in mm, above 0. */
  readonly barMm?: number;
  /** Inner diameter of a round ring in mm, above 0. */
  readonly ringMm?: number;
  /** Length of a skein in mm and its price, where a thread has none of its own. All prices are in the maker's own currency. */
  readonly skeinMm?: number;
  readonly skeinPrice?: number;
  /** What other parts of one piece cost, beside those that stand one by one in {@link Supplies}. */
  readonly partsPrice?: number;
  readonly hourlyRate?: number;
  readonly knotsPerMinute?: number;
  /** How many pieces are made in the board's own colours; default 1. */
  readonly pieces?: number;
  /** Minutes that one piece takes beside its knots; what is not stated is estimated. */
  readonly cutMinutes?: number;
  readonly mountMinutes?: number;
  readonly finishMinutes?: number;
  /** Thread that goes to waste, as a share of what is used; default 0. */
  readonly wasteShare?: number;
  /** Postage, and a fee that does not depend on the price; default 0. */
  readonly postPrice?: number;
  readonly fixedFee?: number;
  /** Whether post and fixed fee are paid for each piece, or once for all that are made; default 'each'. */
  readonly soldAs?: 'each' | 'together';
  /** What is left over for the maker, and what a market keeps, as shares of the price; default 0. */
  readonly marginShare?: number;
  readonly feeShare?: number;
  /** Tax on top of the price, as a share of it; default 0. */
  readonly taxShare?: number;
  /** What the makers want to remember about it, up to 4,000 characters. */
  readonly notes?: string;
}

/** What is tied with: six-strand floss, a firm cord of a stated thickness, or another thread of the maker's own. */
type ThreadKind = 'floss' | 'cord' | 'own';

/** How the maker's thread works up. Everything absent is estimated by one joint model and marked as an estimate. */
export interface Gauge {
  /** Which thread it is; default 'floss'. It sets where the estimate of the width begins. */
  readonly thread?: ThreadKind;
  /** How thick that thread is, as it is sold or wound closely round something, in mm, above 0; of floss it is not read. */
  readonly threadMm?: number;
  /** Width of the band for each string, in mm, above 0. The name is from when it stood for the thickness of the cord too. */
  readonly cordMm?: number;
  /** Height of one row in mm, above 0. */
  readonly rowMm?: number;
  /** String taken up by one knot in the knotting string, in mm, above 0. */
  readonly knottingMm?: number;
  /** String taken up by one knot in the carrier, in mm, above 0. */
  readonly carrierMm?: number;
  /**
   * How sure the measured values are, as the fit of the swatches gave it: standard errors in mm, 0 or more. What is absent beside a
   * measured value is not known.
   */
  readonly cordErrorMm?: number;
  readonly rowErrorMm?: number;
  readonly knottingErrorMm?: number;
  readonly carrierErrorMm?: number;
  /** Degrees of freedom of those errors; 0 = measured once, so that they are the ruler's alone; absent = known well. */
  readonly cordFreedom?: number;
  readonly rowFreedom?: number;
  readonly takeUpFreedom?: number;
  /** Correlations of the errors, -1 to 1; default 0. Of a carrier that is estimated: with what is wrong about the estimate. */
  readonly knottingCarrierCorrelation?: number;
  readonly rowKnottingCorrelation?: number;
  readonly rowCarrierCorrelation?: number;
  /** Standard deviation of what one knot takes up from the next, in mm, 0 or more; default 0. */
  readonly knotScatterMm?: number;
}

/** Whose a colourway is: a person's id on the server, and what they were called when it was given to them. */
export interface ColourwayMaker {
  readonly id: string;
  readonly name: string;
}

/** A set of colours for the same pattern, and whose it is. A palette colour that it does not name stays as on the board. */
export interface Colourway {
  readonly id: string;
  readonly name: string;
  /** Absent: nobody's. */
  readonly maker?: ColourwayMaker;
  /** How many pieces are made in it; default 1. */
  readonly pieces?: number;
  readonly colours: readonly { readonly id: ColourId; readonly name: string; readonly hex: string }[];
}

/** What a maker knows of a thread: it is told from others by colour and name together. What is absent is unset. */
export interface ThreadSupply {
  /** `#rrggbb`, lower case. */
  readonly hex: string;
  readonly name: string;
  /** Under which she finds it in the shop. */
  readonly number?: string;
  /** Of one skein. */
  readonly price?: number;
  /** Length of one skein. */
  readonly skeinMm?: number;
  /** Have at home, in whole skeins and what is left of one. */
  readonly haveMm?: number;
  /** Key of the thread that it is one with, by `threadKey`. */
  readonly sameAs?: string;
}

/** What hangs on a piece beside its cords. */
export type PartKind = 'ring' | 'clasp' | 'bead' | 'other';

/** Parts of one kind that every piece takes. What is absent is unset. */
export interface PartSupply {
  readonly id: string;
  /** Default 'other'. */
  readonly kind?: PartKind;
  readonly name?: string;
  /** How many one piece takes, 0 or more; default 1. */
  readonly count?: number;
  /** Of one of them. */
  readonly price?: number;
  /** How many are at home. */
  readonly have?: number;
}

/** Threads and parts by themselves. Threads stand by colour, then name; parts by id, all in UTF-16 units. */
export interface Supplies {
  readonly threads: readonly ThreadSupply[];
  readonly parts: readonly PartSupply[];
}

/** A pattern, its palette, and what is to be made of it. */
export interface Board {
  readonly title: string;
  readonly palette: readonly PaletteColour[];
  readonly pattern: Pattern;
  readonly piece: Piece;
  readonly gauge: Gauge;
  readonly colourways: readonly Colourway[];
  /** Absent where nothing is said of any thread or part. */
  readonly supplies?: Supplies;
}
