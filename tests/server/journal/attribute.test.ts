/** Which visit made which change of a row that two people wrote, each by a client of their own. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { writeBoard } from '../../../engine/document/index.ts';
import { rootsOf } from '../../../engine/document/schema.ts';
import { signedChanges } from '../../../server/journal/attribute.ts';
import { readWrittenBy } from '../../../server/sync/index.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';

type Roots = ReturnType<typeof rootsOf>;
type Act = (roots: Roots) => void;
const ADA = 71;
const BO = 72;

function founding(): Uint8Array {
  const doc = new Y.Doc();
  doc.clientID = 5;
  writeBoard(doc, sampleBoard(), countingIds('w'));
  return Y.encodeStateAsUpdate(doc);
}

/** A row in which one after the other did something. @returns `<round>: <who> <key> <before> → <after>` */
function row(
  acts: readonly (readonly [client: number, act: Act])[],
  isSigned = true,
  removed: Readonly<Record<number, unknown>> = {},
): readonly string[] {
  const base = founding();
  const doc = new Y.Doc();
  Y.applyUpdate(doc, base);
  // As the server has them: each as it came, with what was overwritten since.
  const updates: Uint8Array[] = [];
  doc.on('update', (update: Uint8Array) => updates.push(update));
  const ends = new Map<number, number[]>();
  for (const [client, act] of acts) {
    doc.clientID = client;
    doc.transact(() => act(rootsOf(doc)));
    ends.set(client, [...(ends.get(client) ?? []), Y.getState(doc.store, client)]);
  }
  const share = (client: number, visit: string): unknown => [
    visit,
    visit,
    (ends.get(client) ?? []).map((end) => [client, end]),
    removed[client] ?? [],
  ];
  const by = JSON.stringify([1000, share(ADA, 'ada.1'), share(BO, 'bo.1')]);
  const reader = new Y.Doc();
  const roots = rootsOf(reader);
  Y.applyUpdate(reader, base);
  let told: readonly string[] = [];
  reader.on('afterTransaction', (transaction: Y.Transaction) => {
    const rounds = signedChanges(transaction, isSigned ? readWrittenBy(by) : null, roots);
    told = rounds.flatMap((round, i) =>
      round.map(
        ({ change, label }) => `${i}: ${label} ${change.key} ${show(change.before)} → ${show(change.after)}`,
      ),
    );
  });
  Y.applyUpdate(reader, Y.mergeUpdates(updates));
  return told;
}
const show = (value: unknown): string =>
  value === null || value === undefined ? '-' : typeof value === 'object' ? '+' : String(value);

const put =
  (name: keyof Roots, key: string, value: unknown): Act =>
  (roots) =>
    void (roots[name] as Y.Map<unknown>).set(key, value);
const knotKey = (): string => {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, founding());
  const { rowPairs, stringPairs } = rootsOf(doc);
  const strings = stringPairs.get(0) as string;
  return `${rowPairs.get(0)}:${strings.slice(strings.indexOf('.') + 1)}:i`;
};

describe('[V425] a row of two people', () => {
  it('has of one key what each made of it, in their order, and of each other key the one who wrote it', () => {
    const told = row([
      [ADA, put('meta', 'w0.title', 'Ada’s')],
      [ADA, put('meta', 'w0.piece.notes', 'mine')],
      [BO, put('meta', 'w0.title', 'Bo’s')],
    ]);
    expect(told).toEqual([
      '0: ada.1 w0.title Test input → Ada’s',
      '0: ada.1 w0.piece.notes - → mine',
      '1: bo.1 w0.title Ada’s → Bo’s',
    ]);
  });

  it('several writes of one person under a key are one change', () => {
    expect(
      row([
        [ADA, put('meta', 'w0.title', 'a')],
        [ADA, put('meta', 'w0.title', 'b')],
        [BO, put('meta', 'x', 1)],
      ]).filter((one) => one.includes('w0.title')),
    ).toEqual(['0: ada.1 w0.title Test input → b']);
  });

  it('has of a key that is again what it was what both made of it', () => {
    const told = row([
      [ADA, put('meta', 'w0.title', 'Ada’s')],
      [BO, put('meta', 'w0.title', 'Test input')],
    ]);
    expect(told).toEqual(['0: ada.1 w0.title Test input → Ada’s', '1: bo.1 w0.title Ada’s → Test input']);
  });

  it('knots go from one to the other too; what is no knot between them does not count', () => {
    const key = knotKey();
    const both = (first: unknown) =>
      row([
        [ADA, put('knots', key, first)],
        [BO, put('knots', key, 4)],
      ]);
    expect(both(3)).toEqual([
      expect.stringContaining(`ada.1 ${key}`),
      expect.stringMatching(/^1: bo\.1 .* 3 → 4$/),
    ]);
    expect(both('no knot')).toEqual([expect.stringMatching(/^0: bo\.1 .* → 4$/)]);
  });

  it('entries of lists are whose they are, those taken out of who took them out', () => {
    const told = row(
      [
        [ADA, ({ rowPairs }) => rowPairs.insert(1, ['w1.new'])],
        [BO, ({ rowPairs }) => rowPairs.delete(0, 1)],
      ],
      true,
      { [BO]: 1 },
    );
    expect(told.find((one) => one.includes('w1.new'))).toMatch(/^0: ada\.1 .* - → \+$/);
    expect(told.find((one) => one.startsWith('0: bo.1'))).toMatch(/\+ → -$/);
  });

  it('what was taken away from under a key is of who took it; where nobody says, nobody’s', () => {
    const acts = [
      [ADA, put('meta', 'x', 1)],
      [BO, ({ meta }: Roots) => meta.delete('w0.title')],
    ] as const;
    const title = (removed: Readonly<Record<number, unknown>>) =>
      row(acts, true, removed).find((one) => one.includes('w0.title'));
    expect(title({ [BO]: 1 })).toBe('0: bo.1 w0.title Test input → -');
    expect(title({})).toBe('0:  w0.title Test input → -');
  });
});

it('[V425] a row that nobody signed is nobody’s', () => {
  expect(row([[ADA, put('meta', 'w0.title', 'a')]], false)).toEqual(['0:  w0.title Test input → a']);
});
