/**
 * How data is laid out in PostgreSQL: by a number for the boards and one for the links, and steps from each to the next.
 * They run under a lock, all in one transaction with the number, so that nodes that start together take them once and a
 * node that ends on the way leaves what was there before. What has no number is of a release that wrote none, or new.
 */
import { BEGIN, pgClientForLayout, pgStoreError } from './postgres-connect.ts';
import { StoreError } from './store.ts';

export interface PgLayout {
  readonly name: 'boards' | 'access';
  /** The first makes what is not there yet; each further one leads from the layout of its index to the next. Never changed. */
  readonly steps: readonly string[];
}

/**
 * Held while tables are made. Any numbers; ours. Releases that wrote no number took the first for boards and the
 * second for links.
 */
const LOCKS = [7_261_953, 7_261_954];

const NUMBERS = `CREATE TABLE IF NOT EXISTS larkboard_layouts (name text PRIMARY KEY, layout integer NOT NULL)`;

/**
 * Brings the database to the layout that this release reads. Rejects with a {@link StoreError}, and changes nothing: also when
 * the layout is of a later release.
 * @param onStep called before each step, with the layout it leads to, and before the commit; throwing there is a fault there
 */
export async function bringPgLayout(
  url: string,
  { name, steps }: PgLayout,
  onStep: (step: `layout:${number}`) => unknown = () => {},
): Promise<void> {
  const client = pgClientForLayout(url);
  // What waits for an answer is told as well.
  client.on('error', () => {});
  try {
    await client.connect();
    await client.query(BEGIN);
    for (const lock of LOCKS) await client.query('SELECT pg_advisory_xact_lock($1)', [lock]);
    await client.query(NUMBERS);
    const found = await client.query<{ layout: number }>(
      'SELECT layout FROM larkboard_layouts WHERE name = $1',
      [name],
    );
    const from = found.rows[0]?.layout ?? 0;
    if (from > steps.length)
      throw new StoreError(
        'damaged',
        `the ${name} in the database have layout ${from}; this server reads up to layout ${steps.length}`,
      );
    for (const [index, step] of steps.entries()) {
      if (index < from) continue;
      await onStep(`layout:${index + 1}`);
      await client.query(step);
    }
    await client.query(
      `INSERT INTO larkboard_layouts (name, layout) VALUES ($1, $2)
       ON CONFLICT (name) DO UPDATE SET layout = excluded.layout WHERE larkboard_layouts.layout <> excluded.layout`,
      [name, steps.length],
    );
    await onStep(`layout:${steps.length + 1}`);
    await client.query('COMMIT');
  } catch (cause) {
    throw pgStoreError(cause);
  } finally {
    // Ending the connection rolls back what was not committed, also where a ROLLBACK could not be sent.
    await client.end();
  }
}
