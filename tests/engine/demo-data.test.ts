import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import {
  type Board,
  boardSchema,
  findStarts,
  formatBoard,
  parseBoard,
  planMount,
  symmetry,
} from '../../engine/index.ts';

const FOLDER = fileURLToPath(new URL('../../demo-data', import.meta.url));
const validate = new Ajv2020({ strict: true }).compile(boardSchema);
const names = readdirSync(FOLDER).filter((name) => name.endsWith('.json'));

function load(name: string): Board {
  const parsed = parseBoard(readFileSync(`${FOLDER}/${name}.json`, 'utf8'));
  if (!parsed.ok) throw new Error(`${name}: ${parsed.error.message}`);
  return parsed.value;
}

describe('demo boards', () => {
  it.each(names)('[P7] %s is valid by the schema, by the parser, and stays itself', (name) => {
    const file: unknown = JSON.parse(readFileSync(`${FOLDER}/${name}`, 'utf8'));
    expect(validate(file), JSON.stringify(validate.errors)).toBe(true);
    const parsed = parseBoard(file);
    expect(parsed.ok).toBe(true);
    if (parsed.ok) expect(parseBoard(formatBoard(parsed.value))).toEqual(parsed);
  });

  it('[P7] one is mirrored and mounts neatly', () => {
    const { pattern } = load('mirrored-diamonds');
    expect(symmetry(pattern).mirror).toEqual({ order: true, knots: true, picture: true });
    expect(planMount(pattern.colours).neat).toBe(true);
  });

  it('[P7] one nests without being mirrored', () => {
    const { pattern } = load('two-nests');
    expect(symmetry(pattern).mirror.order).toBe(false);
    const plan = planMount(pattern.colours);
    expect(plan.neat && plan.singles.length === 0).toBe(true);
    expect(plan.folds.some(({ spread }) => spread)).toBe(true);
  });

  it('[P7] one crosses and becomes neat at another row', () => {
    const { pattern } = load('crosswind');
    expect(planMount(pattern.colours).neat).toBe(false);
    const [best] = findStarts(pattern);
    expect(best?.plan.neat).toBe(true);
    expect(best?.row).toBeGreaterThan(0);
  });

  it('[P7] one has an odd number of strings, one is 60 x 400, one has untied pairs, one has colourways', () => {
    expect(load('odd-one').pattern.colours.length % 2).toBe(1);
    const long = load('long-streamer').pattern;
    expect([long.colours.length, long.rows]).toEqual([60, 400]);
    const open = load('open-windows').pattern;
    expect(
      formatBoard({ ...load('open-windows'), pattern: open }).rows.some((row) =>
        row.split(' ').includes('-'),
      ),
    ).toBe(true);
    expect(load('club-set').colourways.length).toBeGreaterThanOrEqual(3);
  });
});
