/** Reads title, piece, gauge and supplies. */
import {
  demandOf,
  type FieldRule,
  GAUGE_FIELDS,
  gatherSupplies,
  MAX_TITLE_CHARACTERS,
  PIECE_FIELDS,
} from '../files/index.ts';
import { type Gauge, type Piece, plainText, type Supplies } from '../pattern/index.ts';
import type { RepairKind, RepairLog } from './repair.ts';
import { type Roots, readSupplyEntry, type Scope, scoped } from './schema.ts';
import { cutPlain, wellFormed } from './text.ts';

export interface Meta {
  readonly title: string;
  readonly piece: Piece;
  readonly gauge: Gauge;
  /** Absent where nothing is said of any thread or part. */
  readonly supplies?: Supplies;
}

/** Reads what is said about the board. `rows` bounds the lead-in. Rules D30 to D32, D361. */
export function readMeta(roots: Roots, { board }: Scope, rows: number, log: RepairLog): Meta {
  const written = roots.meta.get(scoped(board, 'title'));
  // Half a pair is something else for every peer; of what they read nothing is mended.
  const stored = typeof written === 'string' ? wellFormed(written) : written;
  const title = typeof stored === 'string' ? cutPlain(stored, MAX_TITLE_CHARACTERS) : '';
  if (stored !== undefined && title !== stored) log.note('title-unreadable', 'meta.title');

  const piece = readTable(roots, board, 'piece', PIECE_FIELDS, log);
  if (piece.repeats !== undefined && piece.lengthMm !== undefined) {
    log.note('piece-twofold', 'meta.piece.repeats');
    delete piece.repeats;
  }
  if (typeof piece.leadInRows === 'number' && piece.leadInRows > rows) {
    log.note('lead-in-too-long', 'meta.piece.leadInRows');
    piece.leadInRows = rows;
  }
  const supplies = readSupplies(roots, board, log);
  return {
    title,
    piece: piece as Piece,
    gauge: readTable(roots, board, 'gauge', GAUGE_FIELDS, log) as Gauge,
    ...(supplies === undefined ? {} : { supplies }),
  };
}

function readSupplies(roots: Roots, board: string, log: RepairLog): Supplies | undefined {
  const values: [string, unknown][] = [];
  roots.meta.forEach((value, key) => {
    const entry = readSupplyEntry(board, key);
    // null is how a value is taken back, as in the tables.
    if (entry !== null && value !== null) values.push([entry, value]);
  });
  const { supplies, unreadable, beyond } = gatherSupplies(values);
  for (const key of unreadable) log.note('supply-unreadable', `meta.supply.${key}`);
  if (beyond > 0) log.note('supply-unreadable', 'meta.supply', beyond);
  return supplies;
}

function readTable(
  roots: Roots,
  board: string,
  table: 'piece' | 'gauge',
  rules: Readonly<Record<string, FieldRule>>,
  log: RepairLog,
): Record<string, unknown> {
  const read: Record<string, unknown> = {};
  const fault: RepairKind = `${table}-unreadable`;
  for (const [name, rule] of Object.entries(rules)) {
    const written = roots.meta.get(scoped(board, `${table}.${name}`));
    const value = typeof written === 'string' ? wellFormed(written) : written;
    // null is how a field is taken back, so that taking back merges like setting.
    if (value === undefined || value === null) continue;
    // One character that a peer slipped in takes no notes away.
    const said = rule.type === 'text' && typeof value === 'string' ? plainText(value) : value;
    const isFine = demandOf(rule, said) === null;
    if (isFine) read[name] = said === 0 ? 0 : said;
    if (!isFine || said !== value) log.note(fault, `meta.${table}.${name}`);
  }
  return read;
}
