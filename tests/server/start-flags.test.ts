/** With what `npm start` runs Node. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const start = (JSON.parse(readFileSync('package.json', 'utf8')) as { scripts: { start: string } }).scripts
  .start;
const flags = start.split(' ').filter((word) => word.startsWith('--'));

/** Most that the space of what is new has, in MiB, in a process that makes much more than that and keeps it. */
const FILLS = `
  const kept = [];
  let most = 0;
  for (let i = 0; i < 400; i += 1) {
    kept.push(Array.from({ length: 2_000 }, (_, n) => ({ n, of: i })));
    const space = require('node:v8').getHeapSpaceStatistics().find(({ space_name }) => space_name === 'new_space');
    most = Math.max(most, space.space_size / 2 ** 20);
  }
  console.log(most, kept.length);
`;

it('[V509] this Node knows each flag, and what is new in the heap has two halves of 8 MiB at most', () => {
  const told = execFileSync(process.execPath, [...flags, '-e', FILLS], { encoding: 'utf8' });
  const [most, kept] = told.split(' ').map(Number);
  expect(kept).toBe(400);
  // It did grow: with less than was made the bound would show nothing.
  expect(most).toBeGreaterThan(2);
  expect(most).toBeLessThanOrEqual(16);
});

it('[V509] who starts it otherwise is told of each flag', () => {
  const running = readFileSync('server/RUNNING.md', 'utf8');
  expect(flags).toEqual(['--no-memory-reducer', '--max-semi-space-size=8']);
  for (const flag of flags) expect(running).toContain(`\`${flag}\``);
});
