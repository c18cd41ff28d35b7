import { describe, expect, it } from 'vitest';
import { planMount } from '../../../engine/index.ts';
import { backDrawing, floatsOf } from '../../../web/table/back-drawing.ts';
import { elementsOf } from '../../support/template-elements.ts';

const cord = (left: number, right: number | null) => ({ left, right, colour: 'a' });

describe('the back of the ring', () => {
  it('[N89] a neat plan has no float; of a plan with crossings each crossing has one', () => {
    for (const colours of ['abba', 'aabb', 'abccba', 'aabccb', 'abab', 'abcabc', 'abcacb']) {
      const plan = planMount([...colours]);
      const folds = [...plan.folds].sort((a, b) => a.turn - b.turn);
      const floats = floatsOf(folds.map(({ left, right }) => cord(left, right)));
      expect(floats.length === 0, colours).toBe(plan.neat);
      expect(floats.length, colours).toBeLessThanOrEqual(plan.crossings.length);
    }
    expect(floatsOf([cord(0, 2), cord(1, 3)])).toEqual([1]);
    expect(floatsOf([cord(0, 3), cord(1, 2), cord(4, null)])).toEqual([]);
  });

  it('[N89] is seen from behind: the first place hangs on the right, and floats alone are marked', () => {
    const scene = { label: 'Back', strings: 4, hexOf: () => '#123456' };
    const drawn = (cords: readonly ReturnType<typeof cord>[]) => elementsOf(backDrawing({ ...scene, cords }));
    const ofClass = (list: ReturnType<typeof drawn>, name: string) =>
      list.filter(({ attributes }) => attributes.class === name);
    const neat = drawn([cord(0, 3), cord(1, 2)]);
    expect(ofClass(neat, 'float')).toHaveLength(0);
    const [outer, inner] = ofClass(neat, 'cord across').map(({ attributes }) =>
      /M([\d.]+) [\d.]+H([\d.]+)/.exec(attributes.d!)!.slice(1).map(Number),
    ) as [number[], number[]];
    expect(outer[0]! > inner[0]! && inner[0]! > inner[1]! && inner[1]! > outer[1]!).toBe(true);
    expect(ofClass(drawn([cord(0, 2), cord(1, 3)]), 'float')).toHaveLength(1);
    expect(ofClass(drawn([cord(0, null)]), 'cord across')).toHaveLength(0);
  });
});
