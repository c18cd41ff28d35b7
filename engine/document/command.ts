/** What a maker can do to a design, as plain data, and why it may be refused. */
import type { BoardErrorKind } from '../files/index.ts';
import type {
  Board,
  ColourId,
  Colourway,
  Demand,
  Gauge,
  KnotCode,
  PartSupply,
  Pattern,
  Piece,
  ThreadSupply,
} from '../pattern/index.ts';
import type { Change, KeyedDesign } from './compare/index.ts';
import type { Edit } from './journal/index.ts';
import type { CommandContext, Prepared } from './write-set.ts';

/** Fields to set; null takes a field back to its default. */
type PiecePatch = { readonly [K in keyof Piece]?: Piece[K] | null };
/** Values of the gauge to set; null unsets. */
type GaugePatch = { readonly [K in keyof Gauge]?: Gauge[K] | null };

/** What is said of a thread or a line of parts; null takes it back, and all taken back there is no such line. */
type ThreadPatch = { readonly [K in Exclude<keyof ThreadSupply, 'hex' | 'name'>]?: ThreadSupply[K] | null };
type PartPatch = { readonly [K in Exclude<keyof PartSupply, 'id'>]?: PartSupply[K] | null };

interface ThreadSaid {
  readonly thread: Pick<ThreadSupply, 'hex' | 'name'>;
  readonly patch: ThreadPatch;
}
interface PartSaid {
  readonly id: string;
  readonly patch: PartPatch;
}

/** `row`, `k` and strings as shown now; `at` and `from` count pairs from 0, hidden halves included. */
export type Command =
  | {
      readonly kind: 'set-knots';
      readonly knots: readonly { readonly row: number; readonly k: number; readonly knot: KnotCode }[];
      /** Also the mirrored knot on the other side of the same row; needs an even number of strings. */
      readonly mirrored?: boolean;
    }
  | { readonly kind: 'insert-row-pairs'; readonly at: number; readonly count: number }
  | { readonly kind: 'delete-row-pairs'; readonly from: number; readonly count: number }
  | {
      readonly kind: 'insert-string-pairs';
      readonly at: number;
      readonly count: number;
      /** Two for each pair; default those of the pair to the left (at the left edge: to the right). */
      readonly colours?: readonly ColourId[];
      /** Also the mirrored pairs on the other side; once when `at` is the middle. Needs an even number of strings. */
      readonly mirrored?: boolean;
    }
  | { readonly kind: 'delete-string-pairs'; readonly from: number; readonly count: number }
  | {
      readonly kind: 'set-ends';
      readonly firstHidden?: boolean;
      readonly lastHidden?: boolean;
      readonly loneString?: boolean;
    }
  | { readonly kind: 'recolour-strings'; readonly strings: readonly number[]; readonly colour: ColourId }
  /** Strings of colour `a` get `b` and the other way round. */
  | { readonly kind: 'swap-colours'; readonly a: ColourId; readonly b: ColourId }
  | { readonly kind: 'add-colour'; readonly name: string; readonly hex: string; readonly id?: ColourId }
  | { readonly kind: 'edit-colour'; readonly id: ColourId; readonly name?: string; readonly hex?: string }
  | { readonly kind: 'remove-colour'; readonly id: ColourId; readonly replaceWith: ColourId }
  /** `to`: index in the palette afterwards. */
  | { readonly kind: 'move-colour'; readonly id: ColourId; readonly to: number }
  | { readonly kind: 'set-title'; readonly title: string }
  | { readonly kind: 'set-piece'; readonly patch: PiecePatch }
  | { readonly kind: 'set-gauge'; readonly patch: GaugePatch }
  /** Says something of a thread, which is told from others by colour and name; made by `setThread`. */
  | {
      readonly kind: 'set-thread';
      readonly thread: Pick<ThreadSupply, 'hex' | 'name'>;
      readonly patch: ThreadPatch;
      /** Computes it; comes along, so that only what speaks of threads loads it. */
      readonly prepare: (context: CommandContext, command: ThreadSaid) => Prepared;
    }
  /** Adds a line of parts, or changes the one of that id; made by `setPart`. */
  | {
      readonly kind: 'set-part';
      readonly id: string;
      readonly patch: PartPatch;
      /** Computes it; comes along, as above. */
      readonly prepare: (context: CommandContext, command: PartSaid) => Prepared;
    }
  /** Adds a colourway or changes the one of that id. */
  | { readonly kind: 'put-colourway'; readonly colourway: Colourway }
  | { readonly kind: 'remove-colourway'; readonly id: string }
  /** The whole pattern anew; palette, title, piece and the rest stay. */
  | { readonly kind: 'replace-pattern'; readonly pattern: Pattern }
  /** Another board in the place of all; made by `loadBoard`. */
  | {
      readonly kind: 'load-board';
      readonly board: Board;
      /** Computes it; comes along, so that only what takes boards in loads it. */
      readonly prepare: (context: CommandContext, board: Board) => Prepared;
    }
  /** Takes over changes from another state of the board, as one edit; made by `applyCommand`. */
  | {
      readonly kind: 'apply-changes';
      /** Of `mergeDesigns(base, this design, toward)`, those of chosen conflicts included. */
      readonly changes: readonly Change[];
      readonly toward: KeyedDesign;
      /** Computes it; comes along, so that only a page that compares designs loads it. */
      readonly prepare: (
        context: CommandContext,
        changes: readonly Change[],
        toward: KeyedDesign,
      ) => Prepared;
    }
  /** Takes back what somebody did, wherever it still stands as they left it; made by `takeBackCommand`. */
  | {
      readonly kind: 'take-back';
      readonly edit: Edit;
      /** Computes it; comes along, as above. */
      readonly prepare: (context: CommandContext, edit: Edit) => Prepared;
    };

/** The kinds of {@link Command}. */
export type CommandKind = Command['kind'];

/**
 * Kinds beyond those of a bad board: `limit` too many of something; `last-pair` fewer strings than a pattern has;
 * `no-mirror` an odd number of strings has no mirrored place in the same row; `empty-document` nothing has arrived yet;
 * `newer-version` the document was written by a later version of this program.
 */
export type CommandErrorKind =
  | BoardErrorKind
  | 'limit'
  | 'last-pair'
  | 'no-mirror'
  | 'unknown-colourway'
  | 'unknown-command'
  | 'empty-document'
  | 'newer-version';

/** Why a command was not done; nothing was changed then. */
export interface CommandError {
  readonly kind: CommandErrorKind;
  /** The field of the command at fault, such as `knots[3].row`; empty for the command as a whole. */
  readonly path: string;
  /** An English sentence for people who read logs; the page has its own, by `demand` or `kind`. */
  readonly message: string;
  /** What would have to stand there, where a maker can have asked for something else. */
  readonly demand?: Demand;
  /** What stands there, as it may stand in a sentence; with `demand`. */
  readonly value?: string;
}

/** Whether a command was done. */
export type CommandResult = { readonly ok: true } | { readonly ok: false; readonly error: CommandError };
