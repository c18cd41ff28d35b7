/** Each mutation operator changes what its name says and leaves alone what it should. */
import { describe, expect, it } from 'vitest';
import { mutate, placesIn } from './places.ts';

/** Every change of a source, as `name: changed source`. */
function changes(text: string): string[] {
  return placesIn('web/sample.ts', text).map((place) => `${place.name}: ${mutate(text, place)}`);
}

describe('mutation operators', () => {
  it('move the boundary of a comparison and turn it round', () => {
    expect(changes('f = a < b;')).toEqual([
      'statement removed: {}',
      '< -> <=: f = a <= b;',
      '< -> >=: f = a >= b;',
    ]);
    expect(changes('x = a === b;')).toContain('=== -> !==: x = a !== b;');
  });

  it('exchange what joins conditions, and what computes', () => {
    expect(changes('x = a && (b) || c;')).toEqual([
      'statement removed: {}',
      '&& -> ||: x = a || (b) || c;',
      '|| -> &&: x = a && (b) && c;',
    ]);
    expect(changes('x = a * b - c % d;').slice(1)).toEqual([
      '* -> /: x = a / b - c % d;',
      '- -> +: x = a * b + c % d;',
      '% -> *: x = a * b - c * d;',
    ]);
    expect(changes('x += a; y <<= b;')).toEqual([
      'statement removed: {} y <<= b;',
      '+= -> -=: x -= a; y <<= b;',
      'statement removed: x += a; {}',
    ]);
    expect(changes('for (;; i++) --j;')).toEqual([
      '++ -> --: for (;; i--) --j;',
      '-- -> ++: for (;; i++) ++j;',
      'statement removed: for (;; i++) {}',
    ]);
  });

  it('negate a condition that is no comparison, and leave out a sign', () => {
    expect(changes('if (a.b(c)) throw d;')).toEqual([
      'condition negated: if (!(a.b(c))) throw d;',
      'statement removed: if (a.b(c)) {}',
    ]);
    expect(changes('const x = a || b ? c : d;')).toEqual([
      'condition negated: const x = !(a || b) ? c : d;',
      '|| -> &&: const x = a && b ? c : d;',
    ]);
    expect(changes('x(!a);').slice(1)).toEqual(['! -> nothing: x(a);']);
    expect(changes('if (a < b) {}')).toEqual(['< -> <=: if (a <= b) {}', '< -> >=: if (a >= b) {}']);
    expect(changes('const x = -a;')).toEqual(['- -> nothing: const x = a;']);
  });

  it('change literals: booleans turned, small numbers one more, large ones none', () => {
    expect(
      changes("const x = [true, 0, 1.5, 0x7f, 1_000, 'a', ''];").map((one) => one.split(':')[0]),
    ).toEqual(['true -> false', '0 -> 1', '1.5 -> 2.5', '0x7f -> 0', '1_000 -> 0', 'string emptied']);
  });

  it('remove statements that do something', () => {
    const text = 'for (const a of b) { if (c) continue; if (d) break; if (e) throw f; g(); }';
    expect(changes(text).filter((one) => one.startsWith('statement removed'))).toEqual([
      'statement removed: for (const a of b) { if (c) {} if (d) break; if (e) throw f; g(); }',
      'statement removed: for (const a of b) { if (c) continue; if (d) {} if (e) throw f; g(); }',
      'statement removed: for (const a of b) { if (c) continue; if (d) break; if (e) {} g(); }',
      'statement removed: for (const a of b) { if (c) continue; if (d) break; if (e) throw f; {} }',
    ]);
    expect(changes('class A extends B { constructor() { super(); } }')).toEqual([]);
  });

  it.each([
    ['boolean', 'result negated: function f(): boolean { return !(a); }'],
    ['a is B', 'result negated: function f(): a is B { return !(a); }'],
    ['number', 'result -> 0: function f(): number { return 0; }'],
    ['string', "result -> '': function f(): string { return ''; }"],
    ['readonly A[]', 'result -> []: function f(): readonly A[] { return []; }'],
    ['A | null', 'result -> null: function f(): A | null { return null; }'],
    ['A | undefined', 'result -> undefined: function f(): A | undefined { return undefined; }'],
  ])('return another %s', (type, expected) => {
    expect(changes(`function f(): ${type} { return a; }`)).toEqual([expected]);
  });

  it('return another value of what a promise or an arrow gives, and of the innermost function', () => {
    expect(changes('const f = async (): Promise<number> => a;')).toEqual([
      'result -> 0: const f = async (): Promise<number> => 0;',
    ]);
    expect(changes('function f(): number { g((): string => a); return b; }').slice(1)).toEqual([
      "result -> '': function f(): number { g((): string => ''); return b; }",
      'result -> 0: function f(): number { g((): string => a); return 0; }',
    ]);
    expect(changes('function f(): A { return a; }')).toEqual([]);
  });

  it('leave alone types, imports, keys, decorators, what is told to people and what the bundler reads', () => {
    const text = `
      import { a } from './a.ts';
      export { b } from './b.ts';
      export type C = 'c' | 1 | true;
      const d = await import('./d.ts');
      const e = { 'e': a, f: a as 1 };
      @customElement('lb-g') class G { @property({ attribute: 'h' }) i: 'i' | 2 = a; 'j-k' = a; }
      new Worker(new URL('./l.ts', import.meta.url), { type: 'module' });
      const m = new RangeError('n');
      const o = fail('two words');
    `;
    expect(changes(text).map((one) => one.split(':')[0])).toEqual(['statement removed']);
    expect(changes("log.warn('told'); say('kept');").map((one) => one.split(':')[0])).toEqual([
      'statement removed',
      'statement removed',
      'string emptied',
    ]);
  });
});
