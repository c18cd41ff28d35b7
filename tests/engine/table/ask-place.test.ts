import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Board, parseBoard, type WorkStep, workOrder } from '../../../engine/index.ts';
import { askPlace, type SeenKnot } from '../../../engine/table/ask-place.ts';
import { placesIn } from '../../../engine/table/find-place.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

/** What one sees after so many steps: colours as they hang, and the colours of each hanging string's knots from the lowest up. */
function look(board: Board, steps: readonly WorkStep[], done: number) {
  const strings = board.pattern.colours.map((colour) => ({ colour, knots: [] as string[] }));
  for (const { place, kind } of steps.slice(0, done)) {
    const [left, right] = [strings[place]!, strings[place + 1]!];
    const shown = (kind[0] === 'f' ? left : right).colour;
    left.knots.unshift(shown);
    right.knots.unshift(shown);
    if (kind.length === 1) strings.splice(place, 2, right, left);
  }
  return strings;
}

/** Asks until nothing more is asked; gives what is left and how often it asked. */
function narrow(board: Board, steps: readonly WorkStep[], done: number, kept: number) {
  const seen: SeenKnot[] = [];
  const strings = look(board, steps, done);
  const fitting = placesIn(
    board,
    steps,
    strings.map(({ colour }) => colour),
  );
  for (;;) {
    const { places, ask } = askPlace(board, steps, fitting, seen, kept);
    if (ask === null) return { places, asked: seen.length, fitting };
    seen.push({ ...ask, colour: strings[ask.place]!.knots[ask.above] ?? null });
    expect(seen.length).toBeLessThan(200);
  }
}

const stepsOf = (board: Board): readonly WorkStep[] => workOrder(board, { method: 'rows' }).steps;

describe('askPlace', () => {
  it('[H12] an honest answer never loses the place; what is left at last looks the same in every knot asked for', () => {
    const random = seededRandom(12);
    const outcome = { one: 0, alike: 0 };
    for (let turn = 0; turn < 60; turn++) {
      const size = { strings: 2 + Math.floor(random() * 4), rows: 1 + Math.floor(random() * 14) };
      const band = randomBand(random, size, { untied: random() * 0.3, staying: 0.5 + random() / 2 });
      const colours = turn % 4 === 0 ? band.colours.map(() => 'c0') : band.colours;
      const board = boardOf({ ...band, colours });
      const steps = stepsOf(board);
      for (let done = 0; done <= steps.length; done++) {
        const { places } = narrow(board, steps, done, done);
        expect(places[0]).toBe(done);
        const edges = places.map((place) =>
          look(board, steps, place).map(({ knots }) => [knots[0], knots[1], knots[2]]),
        );
        for (const edge of edges) expect(edge).toEqual(edges[0]);
        outcome[places.length === 1 ? 'one' : 'alike']++;
      }
    }
    expect(Math.min(outcome.one, outcome.alike)).toBeGreaterThan(20);
  });

  it('[H12] the nearest to the place kept comes first, of two as near the earlier', () => {
    const board = boardOf(randomBand(seededRandom(1), { strings: 4, rows: 6 }, { untied: 0, staying: 1 }));
    const steps = stepsOf(board);
    expect(askPlace(board, steps, [0, 1, 2, 3, 4, 5, 6], [], 3).places).toEqual([3, 2, 4, 1, 5, 0, 6]);
    expect(() => askPlace(board, steps, [99], [], 0)).toThrow(/place 99/);
  });

  it('[H12] says that colours cannot tell where all is of one colour', () => {
    const { pattern, ...rest } = boardOf(
      randomBand(seededRandom(2), { strings: 6, rows: 20 }, { untied: 0, staying: 0.5 }),
    );
    const board = { ...rest, pattern: { ...pattern, colours: Array(6).fill('c0') } };
    const steps = stepsOf(board);
    const { places } = narrow(board, steps, 40, 31);
    expect(places.length).toBeGreaterThan(5);
    expect(places.slice(0, 2)).toEqual([31, 30]);
  });

  it('[H12] on the demo boards a dozen questions are enough, also where every step hangs the same', () => {
    const folder = new URL('../../../demo-data/', import.meta.url);
    let hangAlways = 0;
    for (const file of readdirSync(folder)) {
      const read = parseBoard(readFileSync(new URL(file, folder), 'utf8'));
      if (!read.ok) throw new Error(read.error.message);
      const steps = stepsOf(read.value);
      for (let done = 0; done <= steps.length; done += Math.max(1, steps.length >> 3)) {
        const { asked, places, fitting } = narrow(read.value, steps, done, done);
        expect(places).toContain(done);
        expect(asked, file).toBeLessThanOrEqual(12);
        if (fitting.length === steps.length + 1) hangAlways++;
      }
    }
    expect(hangAlways).toBeGreaterThan(0);
  });
});
