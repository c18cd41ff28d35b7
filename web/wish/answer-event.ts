import type { WishAnswer } from '../worker/index.ts';

/** Somebody looks at an answer, or takes it. */
export class AnswerEvent extends Event {
  readonly answer: WishAnswer;

  constructor(type: 'lb-answer-look' | 'lb-answer-take', answer: WishAnswer) {
    super(type);
    this.answer = answer;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-answer-look': AnswerEvent;
    'lb-answer-take': AnswerEvent;
  }
}
