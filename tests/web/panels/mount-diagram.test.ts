/** The mounting as an arc diagram: what is drawn of each fold, crossing and single string. */
import { describe, expect, it } from 'vitest';
import { type MountPlan, planMount } from '../../../engine/index.ts';
import { type DiagramOptions, mountDiagram } from '../../../web/panels/mount-diagram.ts';
import { markupOf } from '../../support/template-text.ts';

const HEX: Readonly<Record<string, string>> = { a: '#aa0000', b: '#00bb00', c: '#0000cc' };
function drawn(
  colours: string,
  more: Partial<DiagramOptions> = {},
  plan: MountPlan = planMount([...colours]),
): string {
  const hexes = [...colours].map((id) => HEX[id]!);
  return markupOf(mountDiagram(plan, { label: 'Mounting', hexes, ...more }));
}
const count = (text: string, what: RegExp): number => text.match(new RegExp(what, 'g'))?.length ?? 0;
const numbers = (text: string): readonly string[] => [...text.matchAll(/>(\d+)<\/text>/g)].map(([, n]) => n!);

describe('the arc diagram', () => {
  it('has an arc for each folded string, numbered in mounting order, in its colour', () => {
    const text = drawn('abba');
    expect([count(text, /class="arc /), numbers(text)]).toEqual([2, ['1', '2']]);
    expect([count(text, /#aa0000/), count(text, /#00bb00/)]).toEqual([3, 3]);
    expect(text).toContain('aria-label=Mounting');
  });

  it('marks what crosses, once, and puts the numbers to either side of it', () => {
    const text = drawn('abab');
    expect(count(text, /class="fault"/)).toBe(1);
    expect(count(drawn('abba'), /class="fault"/)).toBe(0);
    const x = [...text.matchAll(/<text x=([\d.]+)/g)].map(([, at]) => Number(at));
    const middles = [1.5, 2.5].map((place) => 14 + place * 20);
    expect(Math.min(...x)).toBeLessThan(middles[0]!);
    expect(Math.max(...x)).toBeGreaterThan(middles[1]!);
  });

  it('only hints at strings that are not put on yet, and at what they will cross', () => {
    const text = drawn('abab', { shown: 1 });
    expect([
      count(text, /class="arc /),
      count(text, /stroke-dasharray/),
      count(text, /class="fault"/),
    ]).toEqual([1, 1, 0]);
    expect(text).toContain('class="arc last"');
  });

  it('a single string hangs down alone, once all folded ones are on', () => {
    const plan = planMount([...'abbac']);
    expect(plan.singles).toEqual([4]);
    expect(drawn('abbac', {}, plan)).toContain('#0000cc');
    expect(drawn('abbac', { shown: 1 }, plan)).not.toContain('#0000cc');
  });

  it('what has no colour is drawn in that of the text', () => {
    expect(markupOf(mountDiagram(planMount(['a', 'a']), { label: '', hexes: [] }))).toContain('currentColor');
  });

  it('numbers of two digits get a wider plate', () => {
    const half = Array.from({ length: 11 }, (_, i) => `c${i}`);
    const colours = [...half, ...half.toReversed()];
    const text = markupOf(
      mountDiagram(planMount(colours), { label: '', hexes: colours.map(() => '#111111') }),
    );
    expect([count(text, /width=15/), count(text, /width=22/)]).toEqual([9, 2]);
  });

  it('tells which string is pointed at, and that none is any more', () => {
    const pointed: unknown[] = [];
    const plan = planMount(['a', 'a']);
    const listeners: (() => void)[] = [];
    const collect = (value: unknown): void => {
      if (typeof value === 'function') listeners.push(value as () => void);
      else if (Array.isArray(value)) value.forEach(collect);
      else if (typeof value === 'object' && value !== null && 'values' in value) collect(value.values);
    };
    collect(
      mountDiagram(plan, { label: '', hexes: ['#111111', '#111111'], onPoint: (fold) => pointed.push(fold) }),
    );
    for (const listener of listeners) listener();
    expect(pointed).toEqual([0, null]);
  });
});
