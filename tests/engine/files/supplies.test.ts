import { describe, expect, it } from 'vitest';
import {
  gatherSupplies,
  partValueKey,
  readSupplyKey,
  supplyValues,
  threadValueKey,
} from '../../../engine/files/index.ts';
import { type BoardError, parseBoard } from '../../../engine/index.ts';

const FILE = {
  format: 'larkboard',
  version: 3,
  palette: [{ id: 'r', hex: '#aa2211' }],
  strings: ['r', 'r'],
  rows: ['f'],
};

function read(supplies: unknown) {
  return parseBoard({ ...FILE, supplies });
}

function errorOf(supplies: unknown): BoardError {
  const result = read(supplies);
  if (result.ok) throw new Error('was taken');
  return result.error;
}

describe('supplies in a board file', () => {
  it('[P10] threads are told apart by colour and name, stand in one order, and those of which nothing is said are none', () => {
    const result = read({
      threads: [
        { hex: '#DDCC99', name: 'sand', price: 1 },
        { hex: '#aa2211', name: 'rust', haveMm: 4000 },
        { hex: '#aa2211', name: 'brick', number: '347' },
        { hex: '#000000', name: 'ink' },
      ],
      parts: [{ id: 'q', kind: 'clasp' }, { id: 'p', count: 3 }, { id: 'none' }],
    });
    expect(result.ok && result.value.supplies).toEqual({
      threads: [
        { hex: '#aa2211', name: 'brick', number: '347' },
        { hex: '#aa2211', name: 'rust', haveMm: 4000 },
        { hex: '#ddcc99', name: 'sand', price: 1 },
      ],
      parts: [
        { id: 'p', count: 3 },
        { id: 'q', kind: 'clasp' },
      ],
    });
    expect(read({}).ok && 'supplies' in (read({}) as { value: object }).value).toBe(false);
  });

  it('[P6] [P10] what is out of range, unknown or there twice is refused with its path', () => {
    const thread = { hex: '#aa2211', name: 'brick' };
    const cases: readonly (readonly [unknown, string, string])[] = [
      [[], 'supplies', 'wrong-type'],
      [{ cords: [] }, 'supplies.cords', 'unknown-field'],
      [{ threads: [{ name: 'brick' }] }, 'supplies.threads[0].hex', 'missing-field'],
      [{ threads: [{ ...thread, hex: 'red' }] }, 'supplies.threads[0].hex', 'out-of-range'],
      [{ threads: [{ ...thread, price: -1 }] }, 'supplies.threads[0].price', 'out-of-range'],
      [{ threads: [{ ...thread, skeinMm: 5e-324 }] }, 'supplies.threads[0].skeinMm', 'out-of-range'],
      [{ threads: [{ ...thread, weight: 5 }] }, 'supplies.threads[0].weight', 'unknown-field'],
      [{ threads: [thread, { ...thread, hex: '#AA2211' }] }, 'supplies.threads[1].id', 'duplicate-id'],
      [{ parts: [{ id: '' }] }, 'supplies.parts[0].id', 'out-of-range'],
      [{ parts: [{ id: 'p', kind: 'tassel' }] }, 'supplies.parts[0].kind', 'out-of-range'],
      [{ parts: [{ id: 'p', count: 1.5 }] }, 'supplies.parts[0].count', 'out-of-range'],
      [{ parts: [{ id: 'p' }, { id: 'p' }] }, 'supplies.parts[1].id', 'duplicate-id'],
    ];
    for (const [supplies, path, kind] of cases) expect(errorOf(supplies)).toMatchObject({ path, kind });
  });
});

describe('supplies as single values', () => {
  it('[P10] each value has a key of its own, whatever names and ids hold, and the values make the lists again', () => {
    const supplies = {
      threads: [{ hex: '#aa2211', name: 'no. 5. "rust"', price: 1.5, sameAs: '#aa2211.brick' }],
      parts: [{ id: 'a.b', kind: 'bead', count: 0, have: 4 }],
    } as const;
    const values = supplyValues(supplies);
    expect([...values.keys()]).toEqual([
      'thread.price.#aa2211.no. 5. "rust"',
      'thread.sameAs.#aa2211.no. 5. "rust"',
      'part.kind.a.b',
      'part.count.a.b',
      'part.have.a.b',
    ]);
    expect(gatherSupplies([...values].reverse())).toEqual({ supplies, unreadable: [], beyond: 0 });
    expect(readSupplyKey(threadValueKey({ hex: '#aa2211', name: '' }, 'price'))).toEqual({
      of: 'thread',
      field: 'price',
      hex: '#aa2211',
      name: '',
    });
    expect(readSupplyKey(partValueKey('x', 'have'))).toEqual({ of: 'part', field: 'have', id: 'x' });
  });

  it('[P10] a key that is none is passed over, a value that is none is named, and of too many the first count', () => {
    for (const key of [
      '',
      'thread',
      'part.count.',
      'part.weight.p',
      'thread.price.#AA2211.x',
      'thread.price.#aa2211x',
    ])
      expect(readSupplyKey(key)).toBeNull();
    const many = Array.from(
      { length: 101 },
      (_, i) => [`part.count.${String(i).padStart(3, '0')}`, 1] as const,
    );
    const { supplies, unreadable, beyond } = gatherSupplies([
      ...many.reverse(),
      ['part.count.000', 'three'],
      ['part.weight.p', 3],
    ]);
    expect(supplies!.parts.map(({ id }) => id).slice(0, 2)).toEqual(['000', '001']);
    expect([supplies!.parts.length, beyond, unreadable]).toEqual([100, 1, ['part.count.000']]);
  });
});
