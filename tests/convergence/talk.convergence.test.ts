/**
 * Makers who edit a design while several servers write the talk about it, each of them hearing of the others late: pins stay with their
 * knots, nothing is said twice and nothing is lost.
 */
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import {
  addressOfEntry,
  type Design,
  type EntryPlace,
  type KnotAddress,
  type Pin,
  placeOfPin,
  readTalk,
  remarkIdOf,
  type StringAddress,
  Talk,
  type TalkCommand,
} from '../../engine/document/index.ts';
import { PANEL_ENTRIES } from '../../engine/document/talk/entry.ts';
import { cases, firstSeed, seedFailed } from '../support/depth.ts';
import { numberedDoc } from '../support/open-design.ts';
import { Run } from './makers.ts';

const RUNS = cases(100, 2000);

/** What the runs met, for the last test. */
const met = new Map<string, number>();
const meet = (what: string): void => void met.set(what, (met.get(what) ?? 0) + 1);

interface Said {
  readonly person: string;
  readonly sending: string;
  readonly command: TalkCommand;
}

/** A random pin of what a maker sees now. */
function randomPin(run: Run, design: Design): Pin {
  const { random } = run;
  const { pattern } = design.snapshot.board;
  const strings = pattern.colours.length;
  const row = random.below(Math.max(1, pattern.rows));
  const knot = design.addressOf(row, random.below(Math.max(1, (strings - 1) >> 1)));
  const address = design.rowAddressOf(row);
  const string = design.stringAddressOf(random.below(strings));
  const dice = random.next();
  const entry = random.chance(0.4) ? randomEntry(run, design) : null;
  if (entry !== null) return entry;
  if (dice < 0.6 && knot !== null) return { kind: 'knot', address: knot };
  if (dice < 0.75 && address !== null) return { kind: 'row', address };
  if (dice < 0.9 && string !== null) return { kind: 'string', address: string };
  return { kind: 'board' };
}

/** A random entry of a panel, whether the panel shows it or not. */
function randomEntry({ random }: Run, design: Design): Pin | null {
  const { pattern, palette } = design.snapshot.board;
  const panel = random.pick(Object.keys(PANEL_ENTRIES));
  const string = (): number => random.below(pattern.colours.length);
  const places: Readonly<Record<string, EntryPlace>> = {
    string: { on: 'string', string: string() },
    strings: { on: 'strings', left: string(), right: string() },
    knot: { on: 'knot', row: random.below(Math.max(1, pattern.rows)), k: random.below(3) },
    colour: { on: 'colour', id: random.pick(palette).id },
    value: { on: 'value', name: panel === 'gauge' ? 'bar' : 'tailMm' },
  };
  const of = addressOfEntry(design, places[random.pick(PANEL_ENTRIES[panel]!)]!);
  return of && { kind: 'panel', entry: panel, of };
}

/** The place of a pin found without the design's own index: by the ids in its snapshot. */
function placeByIds({ snapshot }: Design, pin: Pin): unknown {
  const { board, rowPairIds, stringPairIds } = snapshot;
  const { start, rows, colours } = board.pattern;
  const rowOf = ({ rowPair, half }: { rowPair: string; half: 'inside' | 'seam' }): number | null => {
    const pair = rowPairIds.indexOf(rowPair);
    const row = 2 * pair + (half === 'seam' ? 1 : 0) - start;
    return pair >= 0 && row >= 0 && row < rows ? row : null;
  };
  if (pin.kind === 'row') return rowOf(pin.address);
  const stringOf = ({ stringPair, side }: StringAddress): number | null => {
    const pair = stringPairIds.indexOf(stringPair);
    const place = 2 * pair + side;
    return pair >= 0 && place < colours.length ? place : null;
  };
  const knotOf = (address: KnotAddress): { readonly row: number; readonly k: number } | null => {
    const row = rowOf(address);
    const k = stringPairIds.indexOf(address.stringPair);
    const parity = address.half === 'seam' ? 1 : 0;
    return row !== null && k >= 0 && k < (colours.length - parity) >> 1 ? { row, k } : null;
  };
  if (pin.kind === 'string') return stringOf(pin.address);
  if (pin.kind === 'knot') return knotOf(pin.address);
  if (pin.kind !== 'panel' || pin.of === undefined) return undefined;
  const { of } = pin;
  switch (of.on) {
    case 'string': {
      const string = stringOf(of.address);
      return string === null ? null : { on: 'string', string };
    }
    case 'strings': {
      const [left, right] = [stringOf(of.left), stringOf(of.right)];
      return left === null || right === null ? null : { on: 'strings', left, right };
    }
    case 'knot': {
      const place = knotOf(of.address);
      return place && { on: 'knot', ...place };
    }
    case 'colour':
      return board.palette.some(({ id }) => id === of.id) ? { on: 'colour', id: of.id } : null;
    case 'value':
      return { on: 'value', name: of.name };
  }
}

function converse(seed: number): void {
  const run = new Run(seed, { makers: 4, steps: 0 });
  const { random } = run;
  // Two servers that write one talk and hear each other late.
  const servers = [numberedDoc(1_001), numberedDoc(1_002)];
  const sent: Said[] = [];
  const said = new Map<string, string>();
  let clock = 0;
  const at = (server: Y.Doc, { person, sending, command }: Said): void => {
    const own = remarkIdOf(person, sending);
    const before = readTalk(server).threads;
    const thread = command.kind === 'open-thread' ? own : command.thread;
    // As the server does: what was made before is not made again.
    if (before.some(({ id, remarks }) => id === thread && remarks.some((one) => one.id === own))) return;
    const talk = new Talk(server, {
      person: { id: person, name: person, hex: '#336699' },
      newId: () => own,
      now: () => clock++,
    });
    const result = talk.run(command);
    if (result.ok && 'text' in command && command.kind !== 'change-remark') said.set(own, command.text);
    talk.dispose();
  };
  const hear = (to: Y.Doc, from: Y.Doc): void => Y.applyUpdate(to, Y.encodeStateAsUpdate(from));

  for (let step = 0; step < 60; step++) {
    const server = random.pick(servers);
    const { design } = random.pick(run.makers);
    const person = random.pick(['ann', 'ben', 'cat']);
    const sending = String(step).padStart(16, '0');
    const { threads } = readTalk(server);
    const text = `${seed} ${step}`;
    const dice = random.next();
    if (dice < 0.35) run.step(step);
    else if (dice < 0.45) hear(server, random.pick(servers));
    else if (dice < 0.55 && sent.length > 0) {
      // An answer was lost: the same thing comes again, perhaps at the other server.
      at(server, random.pick(sent));
      meet('sent again');
    } else {
      const command: TalkCommand =
        threads.length === 0 || random.chance(0.4)
          ? { kind: 'open-thread', pin: randomPin(run, design), text }
          : random.chance(0.7)
            ? { kind: 'answer', thread: random.pick(threads).id, text }
            : { kind: 'set-done', thread: random.pick(threads).id, done: random.chance(0.6) };
      const one = { person, sending, command };
      at(server, one);
      if (command.kind !== 'set-done') sent.push(one);
    }
  }
  run.work();
  for (let round = 0; round < 2; round++)
    for (const a of servers) for (const b of servers) if (a !== b) hear(a, b);

  const [first, second] = servers.map((doc) => readTalk(doc));
  expect(second).toEqual(first);
  const rebuilt = new Y.Doc();
  Y.applyUpdate(rebuilt, Y.encodeStateAsUpdate(servers[1]!));
  expect(readTalk(rebuilt)).toEqual(first);
  const heard = first!.threads.flatMap(({ remarks }) => remarks.map(({ id, text }) => [id, text] as const));
  expect(new Map(heard)).toEqual(said);
  expect(heard).toHaveLength(said.size);
  for (const { pin } of first!.threads)
    for (const { design } of run.makers) {
      const found = placeOfPin(design, pin);
      const place = 'place' in found ? found.place : undefined;
      expect(place).toEqual(placeByIds(design, pin));
      const what = pin.kind === 'panel' && pin.of !== undefined ? `entry ${pin.of.on}` : pin.kind;
      meet(place === null ? `${what} gone` : `${what} there`);
    }
}

test('[K20] [K21] [Y22] design edits and talk together: the same talk everywhere, said once, each pin with its knot', () => {
  for (let seed = firstSeed; seed < firstSeed + RUNS; seed++)
    try {
      converse(seed);
    } catch (cause) {
      throw new Error(seedFailed(seed), { cause });
    }
});

if (RUNS >= 100)
  test('the runs met pins that stayed and pins that went, and repeated sendings', () => {
    const wanted = ['sent again', 'board there'];
    wanted.push('entry value there');
    for (const kind of [
      'knot',
      'row',
      'string',
      'entry string',
      'entry strings',
      'entry knot',
      'entry colour',
    ])
      wanted.push(`${kind} there`, `${kind} gone`);
    expect(wanted.filter((what) => !met.has(what))).toEqual([]);
  });
