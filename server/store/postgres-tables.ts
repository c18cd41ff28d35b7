/** The tables of the boards in PostgreSQL. */
import type { PgLayout } from './postgres-layout.ts';

/** Layout 1, which earlier releases made without a number; in the oldest of them there were no records. */
const FIRST = `
CREATE TABLE IF NOT EXISTS larkboard_boards (
  id text PRIMARY KEY, kind text NOT NULL, created_at bigint NOT NULL
);
CREATE TABLE IF NOT EXISTS larkboard_rows (
  seq bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY, board text NOT NULL, part text NOT NULL, check_value bigint NOT NULL,
  bytes bytea NOT NULL
);
CREATE INDEX IF NOT EXISTS larkboard_rows_of_document ON larkboard_rows (board, part, seq);
CREATE TABLE IF NOT EXISTS larkboard_formers (
  board text NOT NULL, part text NOT NULL, generation bigint NOT NULL, check_value bigint NOT NULL, bytes bytea NOT NULL,
  PRIMARY KEY (board, part, generation)
);
CREATE TABLE IF NOT EXISTS larkboard_records (
  board text NOT NULL, kind text NOT NULL, id text NOT NULL, check_value bigint NOT NULL, about text NOT NULL, bytes bytea NOT NULL,
  PRIMARY KEY (board, kind, id)
);
`;

/**
 * Layout 2: a row for each document, which appends lock (see postgres-rows.ts). A release that knows no number would go on writing without
 * that lock. Nothing can tell it to stop, so the column that it writes has another name: it is refused by the database, at
 * each statement, and keeps its edits as while the database is away.
 */
const DOCUMENTS = `
LOCK TABLE larkboard_boards, larkboard_rows, larkboard_formers IN ACCESS EXCLUSIVE MODE;
ALTER TABLE larkboard_rows RENAME COLUMN bytes TO row_bytes;
CREATE TABLE larkboard_documents (
  board text NOT NULL, part text NOT NULL, generation bigint NOT NULL, PRIMARY KEY (board, part)
);
INSERT INTO larkboard_documents (board, part, generation)
SELECT b.id, p.part, 1 + coalesce(max(f.generation), 0)
FROM larkboard_boards b CROSS JOIN unnest('{design,talk,class}'::text[]) AS p (part)
LEFT JOIN larkboard_formers f ON f.board = b.id AND f.part = p.part GROUP BY b.id, p.part;
`;

/**
 * Layout 3: the names of ended generations, and how often their states were written. A node that knows neither would write a state over
 * another that it has not seen; so, as above, the column that it writes has another name.
 */
const NAMED_FORMERS = `
ALTER TABLE larkboard_formers RENAME COLUMN bytes TO state_bytes;
ALTER TABLE larkboard_formers ADD COLUMN drawn text NOT NULL DEFAULT '';
ALTER TABLE larkboard_formers ADD COLUMN version bigint NOT NULL DEFAULT 0;
`;

/**
 * Layout 4: who wrote each row, and the rows whose place a snapshot has taken. A node of layout 3 beside it does no harm: what it writes is nobody's,
 * and what it compacts leaves a snapshot that is taken for a row like any other.
 */
const SIGNED_ROWS = `
ALTER TABLE larkboard_rows ADD COLUMN written_by text NOT NULL DEFAULT '';
CREATE TABLE larkboard_past (
  seq bigint PRIMARY KEY, board text NOT NULL, part text NOT NULL, generation bigint NOT NULL, check_value bigint NOT NULL,
  written_by text NOT NULL, row_bytes bytea NOT NULL
);
CREATE INDEX larkboard_past_of_document ON larkboard_past (board, part, seq);
`;

/**
 * Layout 5: boards have no document `class` any more, which no page ever showed. A node of layout 4 beside it still makes one for each new
 * board, empty, which nobody opens.
 */
const WITHOUT_CLASS = `
DELETE FROM larkboard_rows WHERE part = 'class';
DELETE FROM larkboard_formers WHERE part = 'class';
DELETE FROM larkboard_past WHERE part = 'class';
DELETE FROM larkboard_documents WHERE part = 'class';
`;

export const BOARDS_LAYOUT: PgLayout = {
  name: 'boards',
  steps: [FIRST, DOCUMENTS, NAMED_FORMERS, SIGNED_ROWS, WITHOUT_CLASS],
};
