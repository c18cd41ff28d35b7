import { describe, expect, it } from 'vitest';
import type { WishAnswer } from '../../../web/worker/index.ts';
import { splitAnswers } from '../../../web/wish/say-answer.ts';
import { sampleBoard } from '../../support/sample-board.ts';

function answer(kind: WishAnswer['kind'], wrong: number): WishAnswer {
  const wrongCells = Array.from({ length: wrong }, (_, k) => [0, k] as const);
  const none = { newRows: 0, proven: true, joined: null, changed: null, tally: null };
  return { kind, board: sampleBoard(), wrongCells, ...none };
}

describe('answers', () => {
  it('[B334] what takes more and shows no more for it is only named', () => {
    const answers = [
      answer('as-it-hangs', 9),
      answer('neat', 4),
      answer('mirrored', 6),
      answer('lead-in', 2),
      answer('wider', 4),
      answer('joined', 5),
    ];
    const { offered, idle } = splitAnswers(answers);
    expect(offered.map(({ kind }) => kind)).toEqual(['as-it-hangs', 'neat', 'mirrored', 'lead-in']);
    expect(idle.map(({ kind }) => kind)).toEqual(['wider', 'joined']);
    // Where nothing else was found, nothing is for nothing; what is mended is offered as it is.
    expect(splitAnswers([answer('wider', 7)]).offered.length).toBe(1);
    expect(splitAnswers([answer('painted', 1), answer('around', 1)]).idle).toEqual([]);
    expect(splitAnswers([])).toEqual({ offered: [], idle: [] });
  });
});
