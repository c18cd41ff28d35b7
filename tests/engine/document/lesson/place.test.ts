/** Places in a lesson as text. */
import { describe, expect, it } from 'vitest';
import { type LessonPlace, placeText, readPlace } from '../../../../engine/document/lesson/place.ts';

describe('a place in a lesson', () => {
  const places: readonly (readonly [string, LessonPlace])[] = [
    ['cut 0', { stage: 'cut', done: 0 }],
    ['mount 12', { stage: 'mount', done: 12 }],
    ['finish 3', { stage: 'finish', done: 3 }],
    ['tie', { stage: 'tie', knot: null }],
    ['tie band 2 14 3', { stage: 'tie', knot: 'band 2 14 3' }],
    ['tie lead-in 0 1 0', { stage: 'tie', knot: 'lead-in 0 1 0' }],
  ];

  it('[D380] has one text, which reads as the same place', () => {
    for (const [text, place] of places) {
      expect(placeText(place)).toBe(text);
      expect(readPlace(text)).toEqual(place);
    }
  });

  it('[D380] is nothing else', () => {
    for (const text of [
      '',
      'cut',
      'cut -1',
      'cut 01',
      'cut 1.5',
      'tie ',
      'tie band 0 1 2',
      'tie band 1 1',
      'sew 1',
      'cut 123456',
    ])
      expect(readPlace(text), text).toBeNull();
    for (const value of [null, 3, ['cut 1'], `tie ${'9'.repeat(90)}`]) expect(readPlace(value)).toBeNull();
  });
});
