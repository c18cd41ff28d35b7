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

export const BOARDS_LAYOUT: PgLayout = { name: 'boards', steps: [FIRST] };
