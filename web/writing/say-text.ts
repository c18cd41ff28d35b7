/** What is said beside a text: how much room there is, and why it is not written. */
import { html, type TemplateResult } from 'lit';
import { t } from '../text/index.ts';
import { sayError } from '../words/index.ts';
import type { TextInHand, TextProblem } from './text-in-hand.ts';

/** From so few units left it is said how many, where it is not said anyway. */
const SAY_ROOM = 10;

/** Why words are not written, as a sentence. */
export function sayProblem(problem: TextProblem): string {
  switch (problem.kind) {
    case 'too-long':
      return t(problem.isJoint ? 'writing.tooLongTogether' : 'writing.tooLong', { over: problem.over });
    case 'empty':
      return t('writing.empty');
    case 'gone':
      return t('writing.gone');
    case 'of-another':
      return t('writing.ofAnother', { name: problem.name });
    case 'alike':
      return t('writing.alike', { name: problem.name });
    case 'refused':
      return sayError(problem.error);
  }
}

/** Stands below the field, which is described by both. */
export function besideText(hand: TextInHand, isFocused: boolean): TemplateResult {
  const { problem, room, source } = hand;
  const saysRoom = problem === null && (source.isMultiline || (isFocused && room <= SAY_ROOM));
  return html`<span class="quiet small" id="room" ?hidden=${!saysRoom}>${saysRoom ? t('writing.room', { left: room }) : ''}</span>
    <span class="wrong" id="wrong" role="alert" ?hidden=${problem === null}>${problem === null ? '' : sayProblem(problem)}</span>`;
}
