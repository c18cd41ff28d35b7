/** The threat model names what shows that each threat is stopped; what it names has to exist. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { filesBelow, readSource } from './source-files.ts';

describe('the threat model', () => {
  const rows = readFileSync('server/THREATS.md', 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('| ') && !/^\| (tries|---)/.test(line));
  // Contracts hold titles too, for every implementation.
  const titles = filesBelow('tests', ['.ts'])
    .map((path) => readSource(path).text)
    .join('\n');
  const isTested = (rule: string): boolean => titles.includes(`[${rule}]`);

  it('[V205] names in each row rules that stand in the title of a test', () => {
    expect(rows.length).toBeGreaterThan(40);
    const missing: string[] = [];
    for (const row of rows) {
      const shown = row.split('|').at(-2)!;
      const named = [...shown.matchAll(/\b[A-Z]-?[A-Z]?\d+/g)].map(([rule]) => rule);
      const ends = /(V-?[A-Z]?)(\d+) to V-?[A-Z]?(\d+)/.exec(shown);
      const ranged =
        ends === null
          ? []
          : Array.from(
              { length: Number(ends[3]) - Number(ends[2]) + 1 },
              (_, i) => `${ends[1]}${Number(ends[2]) + i}`,
            );
      if (named.length === 0) missing.push(`nothing in: ${row}`);
      for (const rule of [...named, ...ranged]) if (!isTested(rule)) missing.push(`${rule} in: ${row}`);
    }
    expect(missing).toEqual([]);
  });
});
