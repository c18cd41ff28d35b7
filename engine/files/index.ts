export { formatBoard } from './board-file.ts';
export { boardSchema } from './board-schema.ts';
export {
  demandOf,
  type FieldRule,
  GAUGE_FIELDS,
  PART_FIELDS,
  PIECE_FIELDS,
  PIECES,
  THREAD_FIELDS,
} from './fields.ts';
export {
  MAX_COLOURS,
  MAX_COLOURWAYS,
  MAX_ID_CHARACTERS,
  MAX_NAME_CHARACTERS,
  MAX_NOTES_CHARACTERS,
  MAX_PARTS,
  MAX_THREADS,
  MAX_TITLE_CHARACTERS,
} from './limits.ts';
export { isPlainList, plainFields } from './plain-data.ts';
export { type BoardError, type BoardErrorKind, parseBoard } from './parse-board.ts';
export { gatherSupplies, readSupplyKey, threadKey } from './supplies.ts';
export { partValueKey, type SupplyValue, supplyValues, threadValueKey } from './supply-values.ts';
