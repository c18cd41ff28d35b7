/** Proposals in words. */
import { ApiError, type Proposal } from '../sync/index.ts';
import { t } from '../text/index.ts';
import { sayServerError } from '../words/index.ts';

/** Whether it waits for an answer, or is still worked on. */
export function isLive({ state }: Proposal): boolean {
  return state === 'draft' || state === 'open';
}

/** Where it stands, in a word. */
export function sayState({ state, isPart }: Proposal): string {
  return t(state === 'accepted' && isPart ? 'prop.acceptedPart' : `prop.${state}`);
}

/** Whose it is. */
export function sayMaker({ isMine, name }: Proposal): string {
  return isMine ? t('prop.byYou') : t('prop.by', { name: name || t('prop.someone') });
}

/** What went wrong, as a sentence. @throws whatever is no answer of the server */
export function sayProblem(error: unknown): string {
  if (!(error instanceof ApiError)) throw error;
  switch (error.kind) {
    case 'unreachable':
      return t('prop.needsServer');
    default:
      return t('prop.failed', { why: sayServerError(error) });
  }
}
