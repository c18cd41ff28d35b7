import { expect, it } from 'vitest';
import { type BeginScene, beginDrawing } from '../../../web/table/begin-drawing.ts';
import { markupOf } from '../../support/template-text.ts';

const HEXES = ['#aa0000', '#00aa00', '#0000aa', '#00aa00'];
const drawn = (more: Partial<BeginScene>): string =>
  markupOf(
    beginDrawing({
      label: 'L',
      begin: 'loose',
      hexes: HEXES,
      laid: null,
      now: null,
      isSpread: false,
      isHeld: true,
      ...more,
    }),
  );
/** Where each string ends below, with its colour. */
const ends = (markup: string): readonly (readonly [string, number])[] =>
  [...markup.matchAll(/class="cord" d=(M\S+ [^>]*?V122) stroke=(#\w+)/g)].map(
    ([, way, hex]) => [hex!, Number(/([\d.]+)(?: [\d.]+)?V122$/.exec(way!)![1])] as const,
  );

it('[B285] strings of a bundle hang together, and spread in their order', () => {
  for (const begin of ['loose', 'loop'] as const) {
    const [together, spread] = [false, true].map((isSpread) => ends(drawn({ begin, isSpread })));
    expect(together!.map(([hex]) => hex)).toEqual(HEXES);
    expect(spread!.map(([hex]) => hex)).toEqual(HEXES);
    const width = (list: typeof together): number => list!.at(-1)![1] - list![0]![1];
    expect(width(spread)).toBeGreaterThan(2 * width(together));
  }
  expect(drawn({ begin: 'loop' })).toContain('stroke-width="9"');
  expect(drawn({})).not.toContain('stroke-width="9"');
  for (const [isHeld, count] of [
    [true, 1],
    [false, 0],
  ] as const)
    expect(drawn({ begin: 'loop', isHeld }).match(/<rect/g) ?? []).toHaveLength(count);
});

it('[B285] over a stick are the strings that were laid, and the one in hand with its place', () => {
  const markup = drawn({ begin: 'stick', laid: new Set([0]), now: 1 });
  expect([...markup.matchAll(/<g class=(\w+)>/g)].map(([, is]) => is)).toEqual(['hung', 'now']);
  expect(markup).toContain('>2</text>');
  expect(drawn({ begin: 'stick', laid: new Set() })).not.toContain('<g class');
});
