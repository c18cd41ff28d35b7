/** Computes changes of the colours of strings. */
import type { Command } from './command.ts';
import { isKnown } from './prepare-pairs.ts';
import { colourKey } from './schema.ts';
import {
  type CommandContext,
  checkList,
  isWhole,
  type Prepared,
  refuse,
  show,
  writeSet,
} from './write-set.ts';
import { set, type Write } from './writes.ts';

type Of<K extends Command['kind']> = Extract<Command, { kind: K }>;

/** Rule D60. The hidden string beside a lone one goes with it. */
export function prepareRecolour(
  context: CommandContext,
  { strings, colour }: Of<'recolour-strings'>,
): Prepared {
  const { shape, colours } = context;
  if (!isKnown(context, colour)) return unknownColour('colour', colour);
  const fault = checkList('strings', strings);
  if (fault !== null) return fault;
  for (const [i, string] of strings.entries())
    if (!isWhole(string, 0, shape.strings - 1))
      return refuse('out-of-range', `strings[${i}]`, `${show(string)} is outside 0 to ${shape.strings - 1}`);
  const wanted = new Set(strings);
  if (shape.loneString && wanted.has(shape.strings - 1)) wanted.add(shape.strings);
  return writeSet(
    [...wanted]
      .filter((string) => colours.ofPairs[string] !== colour)
      .map((string) => stringWrite(context, string, colour)),
  );
}

/** Rule D61. */
export function prepareSwap(context: CommandContext, { a, b }: Of<'swap-colours'>): Prepared {
  for (const [path, id] of [
    ['a', a],
    ['b', b],
  ] as const)
    if (!isKnown(context, id)) return unknownColour(path, id);
  if (a === b) return writeSet([]);
  return writeSet(
    context.colours.ofPairs.flatMap((id, string) =>
      id === a ? [stringWrite(context, string, b)] : id === b ? [stringWrite(context, string, a)] : [],
    ),
  );
}

/** Gives a string a colour. */
export function stringWrite({ roots, shape }: CommandContext, string: number, colour: string): Write {
  return set(roots.colours, colourKey(shape.stringPairIds[string >> 1]!, (string & 1) as 0 | 1), colour);
}

/** Refuses a colour that the palette lacks. */
export function unknownColour(path: string, id: unknown): ReturnType<typeof refuse> {
  return refuse('unknown-colour', path, `the palette has no ${show(id)}`);
}
