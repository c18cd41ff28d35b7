/** How somebody works in a lesson, on her own device: seen by which hand, in which colours, in which language; and raising a hand. */
import { html, type TemplateResult } from 'lit';
import type { LearnerSays } from '../../engine/document/index.ts';
import { type Board, dressBoard } from '../../engine/index.ts';
import { choiceField, languageChoice, unitSwitch } from '../fields/index.ts';
import type { Keychain } from '../table/index.ts';
import { t } from '../text/index.ts';
import { keepUnit, readUnit } from '../units/index.ts';
import { LESSON_VIEWS, type LessonView, type OwnWays } from './lesson-shelf.ts';

export interface LessonSettings {
  /** As the lesson is about. */
  readonly board: Board;
  readonly ways: OwnWays;
  readonly keychain: Pick<Keychain, 'tied' | 'mounted'>;
  /** What a learner has said; undefined for teachers. */
  readonly says: LearnerSays | null | undefined;
  readonly onWays: (ways: Partial<OwnWays>) => void;
  readonly onView: (view: LessonView) => void;
  readonly onSay: (says: LearnerSays | null) => void;
}

/** Rules R42 and R46. */
export function lessonSettings(settings: LessonSettings): TemplateResult {
  const { board, ways, says, onWays, onSay } = settings;
  const { colourway, colours } = ways;
  const dressed = dressBoard(board, board.colourways.find(({ id }) => id === colourway) ?? null);
  const used = new Set(dressed.pattern.colours);
  const wear = (id: string, hex: string): void => onWays({ colours: { ...colours, [id]: hex } });
  return html`
    ${says === undefined ? '' : html`<button aria-pressed=${says === 'hand' ? 'true' : 'false'} @click=${() => onSay(says === 'hand' ? null : 'hand')}>${t('lesson.handUp')}</button>`}
    ${viewField(settings)}
    ${
      board.colourways.length === 0
        ? ''
        : choiceField({
            id: 'colourway',
            label: t('lesson.colourway'),
            value: colourway ?? '',
            choices: [
              ['', t('lesson.boardColours')] as const,
              ...board.colourways.map(({ id, name }) => [id, name] as const),
            ],
            onValue: (chosen) => onWays({ colourway: chosen === '' ? null : chosen }),
          })
    }
    <fieldset><legend>${t('lesson.ownColours')}</legend>${dressed.palette
      .filter(({ id }) => used.has(id))
      .map(
        ({ id, name, hex }) =>
          html`<label>${name.trim() || hex} <input type="color" .value=${colours[id] ?? hex} @change=${(event: Event) => wear(id, (event.target as HTMLInputElement).value)} /></label>`,
      )}</fieldset>
    ${unitSwitch(readUnit(), keepUnit)}
    ${languageChoice()}`;
}

/** A mirror image is another band: what is tied, or hangs, can't become one. */
function viewField({ ways: { view }, keychain: { tied, mounted }, onView }: LessonSettings): TemplateResult {
  const isBegun = tied.size > 0 || mounted > 0;
  const offered = LESSON_VIEWS.filter((one) => !isBegun || (one === 'mirror') === (view === 'mirror'));
  return html`${choiceField({
    id: 'view',
    label: t('lesson.view'),
    value: view,
    choices: offered.map((one) => [one, t(`lesson.view.${one}`)] as const),
    onValue: onView,
  })}
    ${isBegun ? html`<p class="small quiet">${t('lesson.view.tooLate')}</p>` : ''}`;
}
