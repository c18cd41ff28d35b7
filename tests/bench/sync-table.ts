/** The rows of the comparison, their bounds, and what was measured. */
import { SERVER_NAMES, type ServerName } from './sync-servers.ts';

interface Bound {
  readonly row: string;
  readonly title: string;
  /** Unit of the relay's figure, which is given as measured. */
  readonly unit: string;
  /** What ours must be in relation to the relay; null: measured without a bound. */
  readonly atMost?: number;
  readonly atLeast?: number;
}

/** Rows in the order in which they are told. */
const ROWS: readonly Bound[] = [
  { row: 'p50-30', title: '1 room x 30, 20 edits/s: delivery, p50', unit: 'ms', atMost: 1.5 },
  { row: 'p50-50', title: '50 rooms x 4, 500 edits/s: delivery, p50', unit: 'ms', atMost: 2 },
  { row: 'cpu-30', title: '1 room x 30: processor time a delivery', unit: 'us', atMost: 2.5 },
  { row: 'cpu-50', title: '50 rooms x 4: processor time a delivery', unit: 'us', atMost: 2.5 },
  {
    row: 'busy-4',
    title: '1 room x 4, 4000 edits/s: deliveries a second of processor time',
    unit: '/s',
    atLeast: 0.3,
  },
  {
    row: 'most-30',
    title: '1 room x 30: most edits a second, p99 <= 100 ms, none lost',
    unit: '/s',
    atLeast: 1,
  },
  { row: 'most-4', title: '1 room x 4: most edits a second, p99 <= 100 ms, none lost', unit: '/s' },
  { row: 'rss-open', title: 'resident memory of a quiet room with one client', unit: 'KiB', atMost: 3 },
  { row: 'rss-closed', title: 'resident memory kept of a closed room, KiB of each', unit: 'KiB' },
  { row: 'kept-ms', title: 'joining the worn document, people still in it: time', unit: 'ms', atMost: 2 },
  {
    row: 'kept-bytes',
    title: 'joining the worn document, people still in it: bytes',
    unit: 'bytes',
    atMost: 2,
  },
  {
    row: 'kept-30',
    title: '30 join it at once, people still in it: until the last has it',
    unit: 'ms',
    atMost: 3,
  },
  { row: 'join-ms', title: 'joining the worn document, after all had left: time', unit: 'ms', atMost: 2 },
  {
    row: 'join-bytes',
    title: 'joining the worn document, after all had left: bytes',
    unit: 'bytes',
    atMost: 2,
  },
  {
    row: 'join-30',
    title: '30 join it at once, after all had left: until the last has it',
    unit: 'ms',
    atMost: 3,
  },
];

/**
 * The rows with a bound. Of a closed room nothing must be kept. The relay keeps nothing and its process grows too, as its heap
 * does; so ours must not grow by more than this many KiB a room beyond it.
 */
const KEPT_KIB = 0.5;
export const BOUNDS = ROWS.filter(
  ({ row, atMost, atLeast }) => atMost !== undefined || atLeast !== undefined || row === 'rss-closed',
);

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? Number.NaN;
}

export class Table {
  readonly #values = new Map<string, number[]>();

  note(row: string, name: ServerName, value: number): void {
    const key = `${row} ${name}`;
    this.#values.set(key, [...(this.#values.get(key) ?? []), value]);
  }

  #of(row: string, name: ServerName): number {
    return median(this.#values.get(`${row} ${name}`) ?? []);
  }

  /** Whether ours holds the bound of a row. */
  isHeld(row: string): boolean {
    if (row === 'rss-closed') return this.#of(row, 'ours') - this.#of(row, 'relay') < KEPT_KIB;
    const bound = ROWS.find((one) => one.row === row);
    const ratio = this.#of(row, 'ours') / this.#of(row, 'relay');
    return ratio <= (bound?.atMost ?? Number.POSITIVE_INFINITY) && ratio >= (bound?.atLeast ?? 0);
  }

  /** One line a row. */
  lines(): string[] {
    return ROWS.filter(({ row }) => !Number.isNaN(this.#of(row, 'ours'))).map((bound) => {
      const { row, title, unit, atMost, atLeast } = bound;
      const base = this.#of(row, 'relay');
      const cells = SERVER_NAMES.map((name) => {
        const value = this.#of(row, name);
        if (row === 'rss-closed') return `${name} ${value.toFixed(2)}`;
        return name === 'relay'
          ? `relay ${value.toPrecision(3)} ${unit}`
          : `${name} ${(value / base).toFixed(2)} x`;
      });
      const held = this.isHeld(row) ? 'held' : 'NOT HELD';
      let verdict = '';
      if (row === 'rss-closed')
        verdict = `; bound: within ${KEPT_KIB} KiB of the relay, which keeps nothing: ${held}`;
      else if (atMost !== undefined) verdict = `; bound <= ${atMost} x: ${held}`;
      else if (atLeast !== undefined) verdict = `; bound >= ${atLeast} x: ${held}`;
      return `${title}: ${cells.join(', ')}${verdict}`;
    });
  }
}
