import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { FeedbackChoice } from '../../../web/table/feedback.ts';
import { feedbackChoice } from '../../../web/table/feedback-choice.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { elementsOf } from '../../support/template-elements.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('table');
});
afterAll(() => vi.unstubAllGlobals());

const OFF: FeedbackChoice = { isAloud: false, hasSound: false, hasTremble: false };

describe('what ears and hands are to be given', () => {
  it('[N93] each is switched by itself, and shows what it is', () => {
    const choice = { ...OFF, hasSound: true };
    const chosen: FeedbackChoice[] = [];
    const all = { canSpeak: true, canSound: true, canTremble: true };
    const boxes = elementsOf(feedbackChoice(all, choice, (one) => chosen.push(one))).filter(
      ({ tag }) => tag === 'input',
    );
    expect(boxes.map(({ properties }) => properties.checked)).toEqual([false, true, false]);
    for (const box of boxes) box.fire('change');
    expect(chosen).toEqual([{ ...choice, isAloud: true }, OFF, { ...choice, hasTremble: true }]);
  });

  it('[N92] [N93] what this browser cannot do is not offered; of a voice it says that there is none', () => {
    const none = { canSpeak: false, canSound: false, canTremble: false };
    const elements = elementsOf(feedbackChoice(none, OFF, () => {}));
    expect(elements.filter(({ tag }) => tag === 'input')).toEqual([]);
    expect(elements.find(({ tag }) => tag === 'p')!.words).toMatch(/voice/i);
  });
});
