/** What is said in a lesson beside its document. */
import { describe, expect, it } from 'vitest';
import { isSaidBy, type LessonSaying, readSaying } from '../../../../engine/document/index.ts';
import { readNews } from '../../../../engine/document/lesson/messages.ts';

const SAYINGS: readonly LessonSaying[] = [
  { kind: 'hello' },
  { kind: 'at', place: 'tie band 1 2 3' },
  { kind: 'say', what: 'stuck' },
  { kind: 'say', what: null },
  { kind: 'wears', colours: ['#aabbcc'] },
  { kind: 'point', at: null },
  { kind: 'point', at: [2.25, 7.5] },
  { kind: 'stroke', stroke: [1, 2, 3, 4] },
  { kind: 'look', place: 'mount 2' },
  { kind: 'ready?' },
  { kind: 'tell', person: 'pim', text: 'The left one over.' },
];

describe('what a client says in a lesson', () => {
  it('[D385] is read as it was said', () => {
    for (const saying of SAYINGS) expect(readSaying(JSON.stringify(saying))).toEqual(saying);
  });

  it('[D385] of teachers is none of learners, and the other way round; all may greet', () => {
    const of = (who: 'teacher' | 'learner'): readonly string[] => [
      ...new Set(SAYINGS.filter(({ kind }) => isSaidBy(kind, who)).map(({ kind }) => kind)),
    ];
    expect(of('learner')).toEqual(['hello', 'at', 'say', 'wears']);
    expect(of('teacher')).toEqual(['hello', 'point', 'stroke', 'look', 'ready?', 'tell']);
  });

  it('[D385] [D383] is nothing else: unknown kinds, places that are none, strokes too long, words too long', () => {
    const bad: readonly unknown[] = [
      null,
      'at',
      [],
      {},
      { kind: 'own' },
      { kind: 'at' },
      { kind: 'at', place: 'tie it' },
      { kind: 'say', what: 'bored' },
      { kind: 'say' },
      { kind: 'wears', colours: ['red'] },
      { kind: 'wears', colours: Array.from({ length: 41 }, () => '#000000') },
      { kind: 'point', at: [1] },
      { kind: 'point', at: [1, '2'] },
      { kind: 'stroke', stroke: [] },
      { kind: 'stroke', stroke: [1, 2, 3] },
      { kind: 'stroke', stroke: [1, 2, 3, 1e6] },
      { kind: 'stroke', stroke: Array.from({ length: 402 }, () => 1) },
      { kind: 'stroke', stroke: [1, 2, null, 4] },
      { kind: 'look', place: '' },
      { kind: 'tell', person: 'pim', text: ' ' },
      { kind: 'tell', person: 'pim', text: 'x'.repeat(301) },
      { kind: 'tell', person: 7, text: 'x' },
    ];
    for (const one of bad) expect(readSaying(JSON.stringify(one)), JSON.stringify(one)).toBeNull();
    expect(readSaying('{"kind":')).toBeNull();
    expect(readSaying(`{"kind":"hello","x":"${'x'.repeat(9_000)}"}`)).toBeNull();
  });

  it('[D385] news are read by their kind', () => {
    expect(readNews('{"kind":"count","count":3}')).toEqual({ kind: 'count', count: 3 });
    for (const text of ['', '3', 'null', '{}', '[]']) expect(readNews(text)).toBeNull();
  });
});
