import { t } from '../text/index.ts';

/** Names to propose: words of the craft, in the page's language. */
export function craftWords(): readonly string[] {
  return t('people.words').split(' ');
}
