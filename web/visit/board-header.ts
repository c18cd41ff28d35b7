/** What the pages of one board have in common: whether it is saved, undo, notices, and what is there without a board. */
import { css, html, nothing, type TemplateResult } from 'lit';
import type { CloseReason, Design } from '../../engine/document/index.ts';
import { pageIcon } from '../icons/index.ts';
import type { BoardSession } from '../sync/index.ts';
import { t } from '../text/index.ts';
import type { BoardVisit } from './board-visit.ts';
import { emptyState } from './empty-state.ts';
import { briefOf, isPassing, type Sign, signOf } from './sign.ts';

/** The whole sentence: why the line is broken, where the server has said so. */
function sentenceOf(sign: Sign, reason: CloseReason | null): string {
  return reason !== null && isPassing(reason) ? t(`closed.${reason}`) : t(`saved.${sign}`);
}

/** Whether what was edited is on the server’s disk: in a word, which takes no more room than another, and as a sentence to who listens. */
export function savedSign(sign: Sign, reason: CloseReason | null = null): TemplateResult {
  const brief = briefOf(sign);
  const sentence = sentenceOf(sign, reason);
  return html`<span class="saved" data-state=${sign} role="status" title=${sentence}>${
    brief === null
      ? sentence
      : html`<span class="brief" aria-hidden="true">${t(brief)}</span><span class="visually-hidden">${sentence}</span>`
  }</span>`;
}

/** The sentence, over what is there already: nothing moves for it. @param slot of the element that it lies over */
export function savedStrip(session: BoardSession, slot = ''): TemplateResult {
  const sign = signOf(session);
  const said = briefOf(sign) === null ? '' : sentenceOf(sign, session.closeReason);
  return html`<lb-strip slot=${slot || nothing} .said=${said}></lb-strip>`;
}

/** One’s own last step back, and forth again. */
export function undoButtons(design: Design): TemplateResult {
  return html`<button ?disabled=${!design.canUndo} @click=${() => design.undo()} aria-label=${t('board.undo')} title=${t('board.undo')}>${pageIcon('undo')}</button>
    <button ?disabled=${!design.canRedo} @click=${() => design.redo()} aria-label=${t('board.redo')} title=${t('board.redo')}>${pageIcon('redo')}</button>`;
}

/** Why the server has closed the line, and what there is to be said, until it is closed. It is to lie over the page, or in a place of its own. */
export function visitNotices(visit: BoardVisit): TemplateResult {
  const reason = visit.session?.closeReason ?? null;
  return html`${reason === null || isPassing(reason) ? '' : html`<p class="notice" role="alert">${t(`closed.${reason}`)}</p>`}
    ${visit.message === '' ? '' : html`<p class="notice" role="alert">${visit.message} <button @click=${() => visit.say('')} aria-label=${t('app.close')}>×</button></p>`}
    ${visit.steps?.render() ?? ''}${visit.aside?.render() ?? ''}`;
}

/** The page where no board is open (yet), with why. @param actions what can be done instead */
export function emptyVisit({ session, message }: BoardVisit, actions: TemplateResult): TemplateResult {
  const reason = session?.closeReason ?? null;
  const isComing = message === '' && reason === null;
  return emptyState(
    isComing ? 'loading' : 'gone',
    message || (reason === null ? t('board.loading') : t(`closed.${reason}`)),
    actions,
  );
}

export const boardHeaderStyles = css`
  header {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--lb-space-2) var(--lb-space-3);
    padding: var(--lb-space-2) var(--lb-space-3);
    border-block-end: 1px solid var(--lb-line);
    background: var(--lb-page);
  }
  .saved {
    font-size: var(--lb-size-small);
    color: var(--lb-text-quiet);
  }
  .saved[data-state='saved']::before {
    content: '✓ ';
    color: var(--lb-good);
  }
  .saved[data-state='saving']::before {
    content: '… ';
  }
  .saved[data-state='viewing']::before {
    content: '◦ ';
  }
  .saved[data-state='coming']::before {
    content: '… ';
  }
  .saved:has(.brief) {
    color: var(--lb-warn);
    font-weight: 600;
  }
  .saved:has(.brief)::before {
    content: '⚠ ';
  }
  .actions {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-1);
  }
  .icon.turns:dir(rtl) {
    transform: scaleX(-1);
  }
  .notice {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--lb-space-3);
    padding: var(--lb-space-2) var(--lb-space-4);
    background: var(--lb-sunken);
    border-block-end: 1px solid var(--lb-line);
  }
`;
