/**
 * A picture as a programme for HiGHS (mixed integer programming), which knows nothing of our clauses: for each place before each row and each
 * colour whether it hangs there, the same two colours above and below each knot, and as few wishes unmet as can be.
 */
import highsLoader from 'highs';
import { rowParity } from '../../engine/index.ts';
import type { SolveTarget } from '../../engine/solve/target.ts';

/** What HiGHS says of a picture. */
export interface LeastWrong {
  /** Fewest wrong cells, where it is settled. */
  readonly least: number | null;
  /** No board has fewer wrong cells. */
  readonly bound: number;
  readonly seconds: number;
}

function programmeOf({ strings, start, rows, palette }: SolveTarget): string {
  const colours = palette.map((_, colour) => colour);
  const hangs = (row: number, place: number, colour: number): string => `x_${row}_${place}_${colour}`;
  const rules: string[] = [];
  const binaries: string[] = [];
  const unmet: string[] = [];
  for (let row = 0; row <= rows.length; row++)
    for (let place = 0; place < strings; place++) {
      const own = colours.map((colour) => hangs(row, place, colour));
      binaries.push(...own);
      rules.push(`${own.join(' + ')} = 1`);
    }
  rows.forEach((cells, row) => {
    const parity = rowParity(start, row);
    const inKnots = new Set<number>();
    cells.forEach((wanted, k) => {
      const place = 2 * k + parity;
      inKnots.add(place).add(place + 1);
      for (const colour of colours)
        rules.push(
          `${hangs(row, place, colour)} + ${hangs(row, place + 1, colour)} - ${hangs(row + 1, place, colour)} - ${hangs(row + 1, place + 1, colour)} = 0`,
        );
      if (wanted < 0) return;
      unmet.push(`u_${row}_${k}`);
      rules.push(`${hangs(row, place, wanted)} + ${hangs(row, place + 1, wanted)} + u_${row}_${k} >= 1`);
    });
    for (let place = 0; place < strings; place++)
      if (!inKnots.has(place))
        for (const colour of colours)
          rules.push(`${hangs(row, place, colour)} - ${hangs(row + 1, place, colour)} = 0`);
  });
  return [
    'Minimize',
    ` obj: ${unmet.join(' + ')}`,
    'Subject To',
    ...rules.map((rule, i) => ` r${i}: ${rule}`),
    'Binary',
    ...binaries.map((name) => ` ${name}`),
    ...unmet.map((name) => ` ${name}`),
    'End',
  ].join('\n');
}

/** The fewest wrong cells of a target in which something is wanted, or how few they can be at best after so many seconds. */
export async function leastByHighs(target: SolveTarget, mostSeconds: number): Promise<LeastWrong> {
  const log: string[] = [];
  // A loader's module keeps state after a run that was ended, so each picture has one of its own.
  const highs = await highsLoader({ print: (line: string) => log.push(line) } as Parameters<
    typeof highsLoader
  >[0]);
  const began = process.cpuUsage();
  const { Status, ObjectiveValue } = highs.solve(programmeOf(target), { time_limit: mostSeconds });
  const { user, system } = process.cpuUsage(began);
  const seconds = Math.round((user + system) / 10_000) / 100;
  if (Status === 'Optimal') {
    const least = Math.round(ObjectiveValue);
    return { least, bound: least, seconds };
  }
  if (Status !== 'Time limit reached') throw new Error(`HiGHS says ${Status}`);
  const dual = /Dual bound\s+(\S+)/.exec(log.join('\n'))?.[1];
  if (dual === undefined) throw new Error('HiGHS tells no bound');
  return { least: null, bound: Math.max(0, Math.ceil(Number(dual) - 1e-6)), seconds };
}
