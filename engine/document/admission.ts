/**
 * What each document of a board is made of: its roots, and what may stand in them. The server takes nothing else, from
 * sockets, other nodes, the store or an archive, so that whatever it holds can be read, encoded and merged at a cost that its
 * size bounds. A document is flat: no root holds a shared type, and plain values are no deeper than they are spelled here.
 *
 * Whoever adds a root, a field or a length adds it here. Nothing is guessed: a test records what everything that writes
 * does write, and compares both ways.
 */
import { MAX_ID_CHARACTERS, MAX_NAME_CHARACTERS, MAX_NOTES_CHARACTERS } from '../files/index.ts';
import { MAX_PAIRS, MAX_PACKED_BYTES } from './base-knots.ts';
import { MAX_ADDRESS_CHARACTERS } from './read-presence.ts';
import {
  MAX_LESSON_ID,
  MAX_PLACE_CHARACTERS,
  MAX_STOP_CHARACTERS,
  MAX_STROKE_NUMBERS,
} from './lesson/index.ts';
import { MAX_ENTRY_CHARACTERS, MAX_MENTIONS, MAX_REMARK_CHARACTERS } from './talk/index.ts';
import type { BoardPart } from './wire.ts';

/** Root that holds the name of a document, under the key `name`; written by the server alone. */
export const IDENTITY_ROOT = 'identity';

/** What one plain value may be. Lengths of text in UTF-16 units. */
export type ValueRule =
  | { readonly kind: 'null' | 'boolean' | 'number' }
  | { readonly kind: 'text' | 'bytes'; readonly most: number }
  | { readonly kind: 'list'; readonly most: number; readonly of: readonly ValueRule[] }
  /** Any of these fields, and no others. */
  | { readonly kind: 'fields'; readonly of: Readonly<Record<string, readonly ValueRule[]>> };

/** What may stand in one root. */
export interface RootRule {
  readonly root: string;
  /** Entries of a map have keys of at most so many UTF-16 units; those of a list have none (null). */
  readonly mostKey: number | null;
  readonly values: readonly ValueRule[];
}

const NULL: ValueRule = { kind: 'null' };
const BOOLEAN: ValueRule = { kind: 'boolean' };
const NUMBER: ValueRule = { kind: 'number' };
const text = (most: number): ValueRule => ({ kind: 'text', most });
const fields = (of: Readonly<Record<string, readonly ValueRule[]>>): ValueRule => ({ kind: 'fields', of });

/** Ids that this program makes: of boards, patterns, pairs, threads and remarks. */
const ID = 40;
/** `<id>.<id>` */
const PAIR = ID + 1 + ID;
const HEX = text(7);
/** A character of an id that comes from a file takes up to two in a key that is JSON. */
const ID_IN_JSON = MAX_ID_CHARACTERS * 2;
const KEYS = {
  knot: PAIR + 1 + ID + ':i'.length,
  colour: PAIR + ':0'.length,
  palette: ID + 1 + MAX_ID_CHARACTERS + ':instead'.length,
  meta: ID + 1 + 'supply.thread.skeinMm.#rrggbb.'.length + MAX_NAME_CHARACTERS,
  colourway: '["","","","order"]'.length + ID + ID_IN_JSON + ID_IN_JSON,
  thread: ID + ':done'.length,
  remark: ID + 1 + ID + ':says'.length,
  stop: MAX_LESSON_ID + ':minutes'.length,
} as const;

const pairs: readonly ValueRule[] = [NUMBER, { kind: 'list', most: MAX_PAIRS, of: [text(ID)] }];
const address = [text(MAX_ADDRESS_CHARACTERS)];
const half = [text('inside'.length)];
const place = fields({ rowPair: address, stringPair: address, half, side: [NUMBER] });
const string = fields({ stringPair: address, side: [NUMBER] });
const speaker = fields({ id: address, name: [text(MAX_NAME_CHARACTERS)], hex: [HEX] });

const map = (root: string, mostKey: number, ...values: readonly ValueRule[]): RootRule => ({
  root,
  mostKey,
  values,
});
const list = (root: string, ...values: readonly ValueRule[]): RootRule => ({ root, mostKey: null, values });

/** Written by the server, one struct of known bytes; nothing else is taken there. */
const IDENTITY = map(IDENTITY_ROOT, 'name'.length, text(Number.POSITIVE_INFINITY));

/** The one table: for each document its roots. */
export const ADMISSION: Readonly<Record<BoardPart, readonly RootRule[]>> = {
  design: [
    IDENTITY,
    map('meta', KEYS.meta, NULL, BOOLEAN, NUMBER, text(MAX_NOTES_CHARACTERS)),
    list('rowPairs', text(PAIR)),
    list('stringPairs', text(PAIR)),
    map(
      'knots',
      KEYS.knot,
      NUMBER,
      fields({ rows: pairs, strings: pairs, knots: [{ kind: 'bytes', most: MAX_PACKED_BYTES }] }),
    ),
    map('colours', KEYS.colour, text(MAX_ID_CHARACTERS)),
    map('palette', KEYS.palette, text(MAX_NAME_CHARACTERS)),
    list('paletteOrder', text(ID + 1 + MAX_ID_CHARACTERS)),
    map(
      'colourways',
      KEYS.colourway,
      NULL,
      NUMBER,
      text(MAX_NAME_CHARACTERS),
      // Who a colourway belongs to; and what version 1 kept in one value.
      fields({
        id: [text(MAX_ID_CHARACTERS)],
        name: [text(MAX_NAME_CHARACTERS)],
        hex: [HEX],
        order: [NUMBER],
      }),
    ),
  ],
  talk: [
    IDENTITY,
    map('meta', 'version'.length, NUMBER),
    map(
      'threads',
      KEYS.thread,
      NULL,
      fields({
        pin: [
          fields({
            kind: [text('string'.length)],
            address: [place],
            entry: [text(MAX_ENTRY_CHARACTERS)],
            of: [
              fields({
                on: [text('strings'.length)],
                address: [place],
                left: [string],
                right: [string],
                id: address,
                name: [text('knottingCarrierCorrelation'.length)],
              }),
            ],
          }),
        ],
        order: [NUMBER],
        by: [speaker],
        at: [NUMBER],
      }),
    ),
    map(
      'remarks',
      KEYS.remark,
      NULL,
      fields({
        by: [speaker],
        at: [NUMBER],
        order: [NUMBER],
        text: [text(MAX_REMARK_CHARACTERS)],
        mentions: [{ kind: 'list', most: MAX_MENTIONS, of: address }],
      }),
    ),
  ],
  lesson: [
    IDENTITY,
    map('stops', KEYS.stop, NULL, BOOLEAN, NUMBER, text(MAX_STOP_CHARACTERS)),
    map(
      'step',
      'place'.length,
      text(MAX_PLACE_CHARACTERS),
      fields({ page: [text(MAX_LESSON_ID)], name: [text(MAX_NAME_CHARACTERS)] }),
    ),
    map(
      'drawings',
      MAX_LESSON_ID,
      fields({
        stop: [text(MAX_LESSON_ID)],
        stroke: [{ kind: 'list', most: MAX_STROKE_NUMBERS, of: [NUMBER] }],
      }),
    ),
  ],
};

const BY_ROOT: Readonly<Record<BoardPart, ReadonlyMap<string, RootRule>>> = {
  design: byRoot('design'),
  talk: byRoot('talk'),
  lesson: byRoot('lesson'),
};

function byRoot(part: BoardPart): ReadonlyMap<string, RootRule> {
  return new Map(ADMISSION[part].map((rule) => [rule.root, rule]));
}

/** What may stand in a root of a document; undefined when the document has no such root. */
export function ruleOf(part: BoardPart, root: string): RootRule | undefined {
  return BY_ROOT[part].get(root);
}

/** Whether a plain value may stand under one of the rules. Looks no deeper than they go. O(what may be there). */
export function isAdmitted(rules: readonly ValueRule[], value: unknown): boolean {
  for (const rule of rules) if (isUnder(rule, value)) return true;
  return false;
}

function isUnder(rule: ValueRule, value: unknown): boolean {
  switch (rule.kind) {
    case 'null':
      return value === null;
    case 'boolean':
      return typeof value === 'boolean';
    case 'number':
      return typeof value === 'number' && Number.isFinite(value);
    case 'text':
      return typeof value === 'string' && value.length <= rule.most;
    case 'bytes':
      return value instanceof Uint8Array && value.length <= rule.most;
    case 'list':
      return (
        Array.isArray(value) && value.length <= rule.most && value.every((one) => isAdmitted(rule.of, one))
      );
    case 'fields':
      return isPlainObject(value) && Object.keys(value).every((name) => isField(rule.of, name, value[name]));
  }
}

function isField(of: Readonly<Record<string, readonly ValueRule[]>>, name: string, value: unknown): boolean {
  return Object.hasOwn(of, name) && isAdmitted(of[name]!, value);
}

/** A field `__proto__` on the wire becomes the prototype of what is read, and whoever writes it again walks down there. */
function isPlainObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype;
}
