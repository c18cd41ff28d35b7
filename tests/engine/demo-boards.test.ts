import { readdirSync, readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import {
  type Board,
  boardSchema,
  checkPalette,
  cutList,
  findStarts,
  formatBoard,
  parseBoard,
  planMount,
  repeatCycle,
  symmetry,
  workOrder,
} from '../../engine/index.ts';
import { applyStart } from '../../engine/mount/find-starts.ts';
import { allPairings, countCrossings } from '../support/pairings.ts';

const folder = new URL('../../demo-data/', import.meta.url);
const files = new Map(
  readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .map((name): [string, string] => [
      name.replace('.json', ''),
      readFileSync(new URL(name, folder), 'utf8'),
    ]),
);

function demo(name: string): Board {
  const read = parseBoard(files.get(name));
  if (!read.ok) throw new Error(`${name}: ${read.error.message}`);
  return read.value;
}

const mirrorOf = (name: string) => symmetry(demo(name).pattern).mirror;
const neat = (name: string) => planMount(demo(name).pattern.colours).neat;

describe('demo boards', () => {
  const validate = new Ajv2020({ strict: true }).compile(boardSchema);

  it.each([...files.keys()])('[P5] %s obeys schema and parser, and comes back as it was', (name) => {
    const file: unknown = JSON.parse(files.get(name)!);
    expect(validate(file), JSON.stringify(validate.errors)).toBe(true);
    const board = demo(name);
    expect(parseBoard(formatBoard(board))).toEqual({ ok: true, value: board });
    expect(board.title).not.toBe('');
  });

  it.each([...files.keys()])('[P7] %s can be cut, tied and told apart', (name) => {
    const board = demo(name);
    const used = new Set(board.pattern.colours);
    expect(board.palette.filter(({ id }) => !used.has(id))).toEqual([]);
    expect(cutList(board).knots).toBeGreaterThan(0);
    expect(workOrder(board, { method: 'rows' })).toMatchObject({ ok: true });
    expect(checkPalette(board.palette).pairs.filter(({ degree }) => degree === 'alike')).toEqual([]);
  });

  it('[P7] there are boards of every kind that the rules treat differently', () => {
    expect(files.size).toBeGreaterThanOrEqual(8);
    expect([mirrorOf('mirrored-diamonds'), neat('mirrored-diamonds')]).toEqual([
      { order: true, knots: true, picture: true },
      true,
    ]);
    expect([mirrorOf('two-nests').order, neat('two-nests')]).toEqual([false, true]);
    expect(demo('odd-one').pattern.colours.length % 2).toBe(1);
    const long = demo('long-streamer').pattern;
    expect([long.colours.length, long.rows]).toEqual([60, 400]);
    const windows = demo('open-windows').pattern;
    // Knots of an inner row, where the last cell is no spare one.
    expect(windows.knots.subarray(8 * 6, 8 * 6 + 6)).toContain(0);
    expect(demo('spar-wave').piece.end).toBe('triangle');
    expect(demo('two-nests').piece.end).toBe('double triangle');
    expect(demo('club-set').colourways.length).toBeGreaterThanOrEqual(2);
    expect(new Set(demo('first-lesson').pattern.knots)).toEqual(new Set([0, 1, 2, 3, 4]));
    for (const name of files.keys())
      expect(repeatCycle(demo(name).pattern).colours, name).toBeLessThanOrEqual(4);
  });

  it('[P7] crosswind cannot be mounted neatly as it begins, but can at another row', () => {
    const { pattern } = demo('crosswind');
    const mayPair = (i: number, j: number) => pattern.colours[i] === pattern.colours[j];
    const fewest = Math.min(...[...allPairings(pattern.colours.length, mayPair, 0)].map(countCrossings));
    expect(fewest).toBeGreaterThan(0);
    expect(planMount(pattern.colours).crossings).toHaveLength(fewest);
    const best = findStarts(pattern)[0]!;
    expect(best.plan.neat).toBe(true);
    expect(planMount(applyStart(pattern, best).colours).neat).toBe(true);
  });

  it.each([...files.keys()].filter((name) => name !== 'crosswind'))('[P7] %s mounts neatly', (name) => {
    expect(neat(name)).toBe(true);
  });
});
