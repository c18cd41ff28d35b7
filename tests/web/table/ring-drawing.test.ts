import { describe, expect, it } from 'vitest';
import type { Cord } from '../../../web/table/cords.ts';
import { ringDrawing, type RingScene } from '../../../web/table/ring-drawing.ts';
import { markupOf } from '../../support/template-text.ts';

const cord = (left: number, right: number | null, longer: Cord['longer'] = null): Cord => ({
  left,
  right,
  colour: 'a',
  cutMm: 100,
  foldAtMm: 50,
  longer,
});
const drawn = (hung: readonly Cord[], now: Cord | null, seen: Partial<RingScene> = {}): string =>
  markupOf(ringDrawing({ label: 'Ring', strings: 6, hexOf: () => '#123456', hung, now, ...seen }));

describe('the ring large', () => {
  it('[N12] shows each cord that hangs, and the one in hand with its places', () => {
    const text = drawn([cord(0, 5), cord(1, 2)], cord(3, 4));
    expect(text.split('class=hung').length - 1).toBe(2);
    expect(text.split('class=now').length - 1).toBe(1);
    expect([...text.matchAll(/>(\d+)<\/text>/g)].map(([, place]) => place)).toEqual(['4', '5']);
    expect(drawn([], null)).not.toContain('class=now');
  });

  it('[N102] has the numbers of the view, and is turned by half for who sits opposite, numbers upright', () => {
    const numberOf = (place: number): number => 6 - place;
    const text = drawn([], cord(3, 4), { numberOf });
    expect([...text.matchAll(/>(\d+)<\/text>/g)].map(([, place]) => place)).toEqual(['3', '2']);
    expect(text).not.toContain('rotate(180');
    // The ring once, and each number back.
    expect(drawn([], cord(3, 4), { isTurned: true }).split('rotate(180').length - 1).toBe(3);
  });

  it('[N12] the longer end hangs longer, on its side', () => {
    const ends = (longer: Cord['longer']): readonly number[] =>
      [...drawn([], cord(0, 1, longer)).matchAll(/class="cord" d=M\d+ \d+v(\d+)/g)].map(([, down]) =>
        Number(down),
      );
    const [left, right] = [ends('left'), ends('right')];
    expect(left[0]).toBeGreaterThan(left[1]!);
    expect(right[1]).toBeGreaterThan(right[0]!);
    expect(new Set(ends(null)).size).toBe(1);
  });

  it('[N12] a cord with one long end hangs at one place', () => {
    expect([...drawn([], cord(5, null)).matchAll(/>(\d+)<\/text>/g)].map(([, place]) => place)).toEqual([
      '6',
    ]);
  });
});
