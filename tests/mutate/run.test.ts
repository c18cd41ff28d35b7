/** What is run, in which order, and what is kept of it. */
import { mkdtempSync, rmSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { placesIn } from './places.ts';
import { reachedPlaces } from './reach-map.ts';
import { type Result, type RunKey, RunRecord, type TestFile } from './record.ts';
import { runNode } from './run-command.ts';
import { summaryOf } from './summary.ts';
import { batchesOf, filesFor } from './try-place.ts';
import { Turns } from './turns.ts';

const folder = mkdtempSync(join(tmpdir(), 'larkboard-mutate-test-'));
afterAll(() => rmSync(folder, { recursive: true }));

const places = placesIn('engine/a.ts', 'a(); b(); c(); d();');
const [a, b, c, d] = places;
const result = (outcome: Result['outcome']): Result => ({
  outcome,
  by: null,
  test: '',
  why: '',
  reaching: 0,
  ran: 0,
  seconds: 1,
  unsteady: [],
});

describe('what reaches a place', () => {
  it('is what reported its number or read its source', () => {
    expect(reachedPlaces('1\n3\nread engine/b.ts\n', places)).toEqual({ reaches: [b!.id, d!.id], reads: [] });
    expect(reachedPlaces('read engine/a.ts\n', places)).toEqual({
      reaches: [],
      reads: places.map(({ id }) => id),
    });
    expect(reachedPlaces('', places)).toEqual({ reaches: [], reads: [] });
  });

  it('is run nearest first; what is known in part comes last, what fails anyway never', () => {
    const test = (
      seconds: number,
      reaches: readonly string[],
      state: TestFile['state'] = 'passed',
    ): TestFile => ({
      state,
      seconds,
      reaches,
      reads: [],
    });
    const tests = {
      wide: test(2, ['x', 'y', 'z']),
      slow: test(50, ['x']),
      near: test(3, ['x']),
      reader: { ...test(1, []), reads: ['x', 'y'] },
      other: test(1, ['y']),
      odd: test(1, [], 'partly'),
      broken: test(1, ['x'], 'failing'),
    };
    expect(filesFor('x', tests)).toEqual(['reader', 'near', 'wide', 'slow', 'odd']);
    expect(filesFor('none', tests)).toEqual(['odd']);
  });

  it('is run in batches that grow and leave none out', () => {
    const files = Array.from({ length: 30 }, (_, i) => `f${i}`);
    const batches = batchesOf(files, () => 2);
    expect(batches.map((batch) => batch.length)).toEqual([3, 6, 12, 9]);
    expect(batches.flat()).toEqual(files);
    expect(batchesOf([], () => 1)).toEqual([]);
  });
});

describe('turns', () => {
  it('go round the parts, and a spare comes for what does not compile', () => {
    const turns = new Turns([
      { wanted: 1, places: [a!, b!] },
      { wanted: 1, places: [c!, d!] },
    ]);
    expect([turns.next(), turns.next(), turns.next()]).toEqual([a, c, undefined]);
    turns.note(a!.id, true);
    turns.note(c!.id, false);
    expect([turns.next(), turns.next()]).toEqual([b, undefined]);
  });
});

describe('the record', () => {
  const key: RunKey = { seed: 1, places: [a!.id], testFiles: ['t'], product: 'p', tree: 'q' };

  it('goes on where it stopped', () => {
    const file = join(folder, 'deep', 'one.json');
    const first = new RunRecord(file, key);
    first.noteTest('t', { state: 'passed', seconds: 1, reaches: [a!.id], reads: [] });
    first.noteResult(a!.id, result('survived'));
    const second = new RunRecord(file, key);
    expect([second.tests, second.results]).toEqual([first.tests, first.results]);
  });

  it('mixes no two runs', () => {
    const file = join(folder, 'two.json');
    new RunRecord(file, key).noteResult(a!.id, result('caught'));
    expect(() => new RunRecord(file, { ...key, tree: 'other' })).toThrow(/other tree/);
  });
});

describe('the summary', () => {
  it('counts by part and names survivors with their line', () => {
    const results = {
      [a!.id]: result('caught'),
      [b!.id]: result('survived'),
      [c!.id]: result('does not compile'),
    };
    const text = summaryOf(results, places, ({ start }) => `line at ${start}`);
    expect(text).toContain('| engine | 2 | 1 | 0 | 1 | 1 |');
    expect(text).toContain('| server | 0 | 0 | 0 | 0 | 0 |');
    expect(text).toContain(`- ${b!.id} (no test runs it)\n    line at ${b!.start}`);
    expect(text).not.toContain(d!.id);
  });
});

describe('a command', () => {
  it('tells its end and its output, and is not told that it is run for development', async () => {
    const args = ['-e', 'console.log(process.env.HERE, process.env.NODE_ENV); process.exit(3)'];
    const end = await runNode(args, { cwd: folder, limitMs: 60_000, env: { HERE: 'here' } });
    expect(end).toEqual({ code: 3, output: 'here undefined\n', hangs: false });
  });

  it('that does not end is ended', async () => {
    const end = await runNode(['-e', 'for (;;);'], { cwd: folder, limitMs: 300 });
    expect([end.code, end.hangs]).toEqual([null, true]);
  });

  it('leaves nothing running', async () => {
    const server = createServer();
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const { port } = server.address() as AddressInfo;
    const left = new Promise<void>((resolve) =>
      server.once('connection', (line) => line.once('close', resolve).on('error', () => {})),
    );
    // The command ends as soon as what it started says that it is connected.
    const inner = `require('node:net').connect(${port}, '127.0.0.1', () => process.send('connected'))`;
    const outer = `require('node:child_process').spawn(process.execPath, ['-e', ${JSON.stringify(inner)}], { stdio: ['ignore', 'ignore', 'ignore', 'ipc'] })
      .once('message', () => process.exit(0))`;
    expect((await runNode(['-e', outer], { cwd: folder, limitMs: 60_000 })).code).toBe(0);
    await left;
    server.close();
  });
});
