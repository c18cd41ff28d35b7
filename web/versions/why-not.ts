/** Why something of versions was not done, and what must hold before it is. */
import { ApiError, type BoardSession } from '../sync/index.ts';
import { t } from '../text/index.ts';
import { sayServerError } from '../words/index.ts';

/** In the reader's language. */
export function whyNot(error: ApiError): string {
  switch (error.kind) {
    case 'unreachable':
      return t('versions.offline');
    case 'bad-version':
      return t('versions.cannotRead', { why: sayServerError(error) });
    case 'not-saved':
      return t('versions.failed', { why: t('versions.notSaved') });
    default:
      return t('versions.failed', { why: sayServerError(error) });
  }
}

/** What is not on the server yet would not be in the version. @throws ApiError */
export function expectSaved({ saved }: BoardSession): void {
  if (saved === 'saved') return;
  throw new ApiError(saved === 'offline' ? 'unreachable' : 'not-saved', 'not saved yet');
}
