/** Random commands of every kind, most of them good ones for the design they are made for. */
import type { CommandKind } from '../../engine/document/command.ts';
import {
  type Command,
  type DesignSnapshot,
  loadBoard,
  setPart,
  setThread,
} from '../../engine/document/index.ts';
import type { Board, KnotCode, Pattern } from '../../engine/index.ts';
import type { SeededRandom } from '../support/seeded-random.ts';

/** These are computed from more than the design; the tests of them make it themselves. */
type Alone = Exclude<CommandKind, 'apply-changes' | 'take-back'>;

const COMMON: readonly Alone[] = [
  'set-knots',
  'set-knots',
  'set-knots',
  'set-knots',
  'insert-row-pairs',
  'delete-row-pairs',
  'insert-string-pairs',
  'delete-string-pairs',
  'recolour-strings',
];
const RARE: readonly Alone[] = [
  'set-ends',
  'swap-colours',
  'add-colour',
  'edit-colour',
  'remove-colour',
  'move-colour',
  'set-title',
  'set-piece',
  'set-gauge',
  'put-colourway',
  'remove-colourway',
  'replace-pattern',
  'load-board',
];
/** Each in a third of the cases in which it would be the gauge, which is as plain as they are. */
const SUPPLIES: readonly Alone[] = ['set-thread', 'set-part', 'set-gauge'];
export const ALL_KINDS: readonly CommandKind[] = [...new Set([...COMMON, ...RARE, ...SUPPLIES])];

const NAMES = ['ash', 'birch', 'cedar', 'elm', 'fir'];
const hexOf = (random: SeededRandom): string => `#${random.below(0x1000000).toString(16).padStart(6, '0')}`;

/** Repeats, and with some numbers of them another way to begin. */
function beginningPatch(repeats: number): Extract<Command, { readonly kind: 'set-piece' }>['patch'] {
  const begin = ([null, 'loose', 'loop', 'stick'] as const)[repeats % 5];
  if (begin === undefined) return { repeats };
  return begin === 'loop'
    ? { repeats, begin, loopMm: 10 + repeats }
    : { repeats, begin, headKnot: begin === 'stick' ? 'none' : null, headMm: begin === 'loose' ? 90 : null };
}

/** A random command for a design as this maker sees it; now and then one that must be refused. */
export function randomCommand(
  random: SeededRandom,
  { board, rowPairIds, stringPairIds }: DesignSnapshot,
): Command {
  const { pattern, palette } = board;
  const strings = pattern.colours.length;
  const rowPairs = rowPairIds.length;
  const stringPairs = stringPairIds.length;
  const colour = (): string => random.pick(palette).id;
  const knot = (): KnotCode => random.below(5) as KnotCode;
  const drawn = random.chance(0.75) ? random.pick(COMMON) : random.pick(RARE);
  const kind = drawn === 'set-gauge' ? random.pick(SUPPLIES) : drawn;
  switch (kind) {
    case 'set-knots': {
      const knots = Array.from({ length: 1 + random.below(4) }, () => {
        const row = random.below(Math.max(1, pattern.rows));
        return { row, k: random.below(Math.max(1, strings >> 1)), knot: knot() };
      });
      return { kind, knots, mirrored: strings % 2 === 0 && random.chance(0.3) };
    }
    case 'insert-row-pairs':
      // Small patterns meet more often.
      if (rowPairs > 5) return { kind: 'delete-row-pairs', from: random.below(rowPairs), count: 1 };
      return { kind, at: random.below(rowPairs + 1), count: 1 + random.below(2) };
    case 'delete-row-pairs':
      return { kind, from: random.below(Math.max(1, rowPairs)), count: 1 + random.below(2) };
    case 'insert-string-pairs':
      if (stringPairs > 5) return { kind: 'delete-string-pairs', from: random.below(stringPairs), count: 1 };
      return {
        kind,
        at: random.below(stringPairs + 1),
        count: 1,
        mirrored: strings % 2 === 0 && random.chance(0.3),
        ...(random.chance(0.5) ? { colours: [colour(), colour()] } : {}),
      };
    case 'delete-string-pairs':
      return { kind, from: random.below(stringPairs), count: 1 + random.below(3) };
    case 'set-ends':
      return { kind, [random.pick(['firstHidden', 'lastHidden', 'loneString'])]: random.chance(0.5) };
    case 'recolour-strings':
      return { kind, strings: [random.below(strings), random.below(strings)], colour: colour() };
    case 'swap-colours':
      return { kind, a: colour(), b: colour() };
    case 'add-colour':
      return {
        kind,
        name: random.pick(NAMES),
        hex: hexOf(random),
        ...(random.chance(0.5) ? { id: random.pick(NAMES) } : {}),
      };
    case 'edit-colour':
      return { kind, id: colour(), name: random.pick(NAMES), hex: hexOf(random) };
    case 'remove-colour':
      return { kind, id: colour(), replaceWith: colour() };
    case 'move-colour':
      return { kind, id: colour(), to: random.below(palette.length) };
    case 'set-title':
      return { kind, title: random.pick(NAMES) };
    case 'set-piece':
      return random.chance(0.5)
        ? { kind, patch: beginningPatch(1 + random.below(9)) }
        : { kind, patch: { lengthMm: 50 + random.below(90), leadInRows: random.below(4), end: null } };
    case 'set-gauge':
      return { kind, patch: gaugePatchOf(random) };
    case 'set-thread': {
      const { hex, name } = random.pick(palette);
      const told = { price: random.below(9), number: random.pick(NAMES), haveMm: null };
      return setThread({ hex, name }, random.chance(0.5) ? told : { haveMm: random.below(9_000) });
    }
    case 'set-part': {
      const gone = { kind: null, name: null, count: null, price: null, have: null };
      const told = { kind: random.pick(['ring', 'bead'] as const), count: random.below(4) };
      return setPart(random.pick(NAMES), random.pick([gone, told, { price: random.below(9) }]));
    }
    case 'put-colourway': {
      const colours = palette
        .filter(() => random.chance(0.5))
        .map(({ id }) => ({ id, name: random.pick(NAMES), hex: hexOf(random) }));
      const id = random.pick(NAMES);
      const present = board.colourways.find((one) => one.id === id);
      // Mostly one field of one that is there: that is what two people do at once.
      if (present !== undefined && random.chance(0.7)) {
        const [first, ...others] = present.colours;
        const dressed = first === undefined ? colours : [{ ...first, hex: hexOf(random) }, ...others];
        const maker = { id: random.pick(NAMES), name: random.pick(NAMES) };
        return {
          kind,
          colourway: random.pick([
            { ...present, colours: dressed },
            { ...present, name: random.pick(NAMES) },
            { ...present, maker },
            { ...present, pieces: 1 + random.below(5) },
          ]),
        };
      }
      return { kind, colourway: { id, name: random.pick(NAMES), colours } };
    }
    case 'remove-colourway':
      return { kind, id: random.pick(NAMES) };
    case 'replace-pattern':
      return {
        kind,
        pattern: randomPattern(
          random,
          palette.map(({ id }) => id),
        ),
      };
    case 'load-board':
      return loadBoard(randomBoard(random));
  }
}

/** A small random pattern in the given colours. */
export function randomPattern(random: SeededRandom, palette: readonly string[]): Pattern {
  const strings = 2 + random.below(9);
  const rows = random.below(8);
  const start = random.below(2) as 0 | 1;
  const stride = strings >> 1;
  const knots = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < (strings - ((start + row) & 1)) >> 1; k++) knots[row * stride + k] = random.below(5);
  return { colours: Array.from({ length: strings }, () => random.pick(palette)), start, rows, knots };
}

/** A small random board. */
export function randomBoard(random: SeededRandom): Board {
  const palette = NAMES.slice(0, 1 + random.below(NAMES.length)).map((id) => ({
    id,
    name: id,
    hex: hexOf(random),
  }));
  return {
    title: random.pick(NAMES),
    palette,
    pattern: randomPattern(
      random,
      palette.map(({ id }) => id),
    ),
    piece: random.chance(0.5) ? { repeats: 3 } : {},
    gauge: {},
    colourways: [],
  };
}

/** A measured width or height with its error, or all about them taken back. */
function gaugePatchOf(random: SeededRandom) {
  const errors = { cordErrorMm: random.next() / 10, cordFreedom: random.below(5) };
  const row = random.chance(0.5)
    ? { rowMm: null, rowErrorMm: null, rowKnottingCorrelation: null }
    : { rowMm: 2, rowErrorMm: random.next() / 10, rowKnottingCorrelation: random.next() * 2 - 1 };
  return { cordMm: 1 + random.next(), ...errors, ...row };
}
