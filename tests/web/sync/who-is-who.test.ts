/** How people at one board come by names and colours of their own: each page works out its own person's from who is there. */
import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../engine/colour/difference.ts';
import { hexToLab } from '../../../engine/colour/index.ts';
import { nameKey } from '../../../web/sync/craft-words.ts';
import { HEXES, lookAmong, type Shown, seatAfter } from '../../../web/sync/who-is-who.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const WORDS = ['Bobbin', 'Shuttle', 'Skein', 'Thimble', 'Tassel'];
const NOBODY: ReadonlyMap<string, string> = new Map();

const one = (id: string, more: Partial<Shown> = {}): Shown => ({
  id,
  name: id,
  hex: HEXES[0]!,
  seat: { since: 1_000, isNamed: false },
  ...more,
});

/** Everybody looks round and moves, all at once, until nobody does. @returns who is there then, and after how many rounds */
function settled(start: readonly Shown[], words = WORDS) {
  let here = start;
  for (let rounds = 0; rounds < 20; rounds += 1) {
    const next = here.map((who) => ({ ...who, ...lookAmong(who.id, here, NOBODY, words) }));
    if (next.every(({ name, hex }, i) => name === here[i]!.name && hex === here[i]!.hex))
      return { here, rounds };
    here = next;
  }
  throw new Error('they never settle');
}

describe('colours', () => {
  it('[W940] any two of the 24 can be told apart', () => {
    const labs = HEXES.map(hexToLab);
    const least = labs.flatMap((lab, i) => labs.slice(0, i).map((other) => ciede2000(lab, other)));
    expect([HEXES.length, new Set(HEXES).size]).toEqual([24, 24]);
    expect(Math.min(...least)).toBeGreaterThan(14);
  });

  it('[W940] whoever came first keeps theirs, and the other takes one that nobody has', () => {
    const [early, late] = [one('z', { seat: { since: 1, isNamed: true } }), one('a')];
    const third = one('m', { hex: HEXES[1]! });
    const all = [late, third, early];
    expect(lookAmong('z', all, NOBODY, WORDS).hex).toBe(HEXES[0]);
    expect(lookAmong('m', all, NOBODY, WORDS).hex).toBe(HEXES[1]);
    expect(HEXES.slice(2)).toContain(lookAmong('a', all, NOBODY, WORDS).hex);
  });

  it('[W940] whoever gives nothing up, as pages of earlier releases, keeps theirs', () => {
    const former = one('z', { seat: undefined });
    const all = [one('a', { seat: { since: 1, isNamed: true } }), former];
    expect(lookAmong('z', all, NOBODY, WORDS)).toEqual({ name: 'z', hex: HEXES[0] });
    expect(lookAmong('a', all, NOBODY, WORDS).hex).not.toBe(HEXES[0]);
  });

  it('[W940] where all are gone they come twice, and nobody moves for it', () => {
    const many = Array.from({ length: 30 }, (_, i) => one(`p${i}`, { hex: HEXES[i % 24]! }));
    expect(settled(many).rounds).toBe(0);
  });
});

describe('names', () => {
  it('[W941] one that was chosen stays, and who goes by a proposed one moves off it, also who came first', () => {
    const first = one('a', { name: 'Skein', seat: { since: 1, isNamed: false } });
    const chose = one('b', { name: ' skein', seat: { since: 9, isNamed: true } });
    expect(lookAmong('b', [first, chose], NOBODY, WORDS).name).toBe(' skein');
    const moved = lookAmong('a', [first, chose], NOBODY, WORDS).name;
    expect(WORDS).toContain(moved);
    expect(moved).not.toBe('Skein');
  });

  it('[W941] two who chose the same one both keep it', () => {
    const all = ['a', 'b'].map((id) => one(id, { name: 'Anna', seat: { since: 1, isNamed: true } }));
    expect(settled(all).here.map(({ name }) => name)).toEqual(['Anna', 'Anna']);
  });

  it('[W941] a proposed one is nobody’s whom the board knows, and oneself is no other', () => {
    const self = one('a', { name: 'Skein' });
    expect(lookAmong('a', [self], new Map([['a', 'Skein']]), WORDS).name).toBe('Skein');
    const known = new Map([
      ['x', 'skein'],
      ['y', 'Bobbin'],
      ['z', 'Shuttle'],
      ['w', 'Tassel'],
    ]);
    expect(lookAmong('a', [self], known, WORDS).name).toBe('Thimble');
  });

  it('[W941] when all words are taken they are numbered', () => {
    const all = Array.from({ length: 12 }, (_, i) => one(`p${i}`, { name: 'Skein' }));
    const names = settled(all).here.map(({ name }) => name);
    expect(new Set(names.map(nameKey)).size).toBe(12);
    expect(names.filter((name) => / \d$/.test(name))).toHaveLength(7);
  });
});

describe('coming at once', () => {
  it('[W940] [W941] whoever comes when, and whatever they carry: after one look round no two are alike, and nobody’s chosen name is another', () => {
    let moved = 0;
    for (let seed = 1; seed <= 200; seed += 1) {
      const random = seededRandom(seed);
      const count = 2 + random.below(20);
      const start = Array.from({ length: count }, (_, i) => {
        const isNamed = random.chance(0.3);
        return one(`p${random.below(1e6)}-${i}`, {
          hex: random.pick(HEXES.slice(0, 8)),
          name: isNamed ? `chosen ${i}` : random.pick(WORDS),
          seat: { since: 1 + random.below(3), isNamed },
        });
      });
      const { here, rounds } = settled(start);
      moved += rounds;
      const note = `seed ${seed}`;
      expect(rounds, note).toBeLessThanOrEqual(1);
      expect(new Set(here.map(({ hex }) => hex)).size, note).toBe(count);
      expect(new Set(here.map(({ name }) => nameKey(name))).size, note).toBe(count);
      for (const [i, { name, seat }] of start.entries()) if (seat!.isNamed) expect(here[i]!.name).toBe(name);
    }
    expect(moved).toBeGreaterThan(150);
  });

  it('[W940] who sees only some of those there moves again when the rest come in sight, and then nobody does', () => {
    const [a, b, c] = ['a', 'b', 'c'].map((id) => one(id, { name: 'Skein' }));
    // Two nodes that do not hear of each other.
    const [here, there] = [settled([a!, b!]).here, settled([c!]).here];
    const all = settled([...here, ...there]).here;
    expect(new Set(all.map(({ hex }) => hex)).size).toBe(3);
    expect(new Set(all.map(({ name }) => name)).size).toBe(3);
  });

  it('[W940] one comes after all who are there, whatever their clocks say; a time far ahead counts as none', () => {
    expect(seatAfter([], 500)).toBe(500);
    expect(seatAfter([one('a', { seat: { since: 700, isNamed: true } })], 500)).toBe(701);
    expect(seatAfter([one('a', { seat: { since: 9e12, isNamed: true } })], 500)).toBe(500);
    expect(seatAfter([one('a', { seat: undefined })], 500)).toBe(500);
  });

  it('[W942] tabs of one person are one: none is moved for the other', () => {
    const tabs = [
      one('a', { name: 'Skein' }),
      one('a', { name: 'Skein', seat: { since: 2_000, isNamed: false } }),
    ];
    expect(lookAmong('a', tabs, NOBODY, WORDS)).toEqual({ name: 'Skein', hex: HEXES[0] });
    expect(() => lookAmong('b', tabs, NOBODY, WORDS)).toThrow('b is not among those who are there');
  });
});
