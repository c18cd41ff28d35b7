/** Which state of a board a lesson is about: as it stands now, or a version that somebody named. */
import type { TemplateResult } from 'lit';
import { choiceField } from '../fields/index.ts';
import { fetchVersions, type Version } from '../sync/index.ts';
import { currentLanguage, t } from '../text/index.ts';

/** The named versions of a board, newest first. Rejects with {@link ApiError}. */
export async function namedVersions(boardId: string): Promise<readonly Version[]> {
  return (await fetchVersions(boardId)).versions.filter(({ kind }) => kind === 'named');
}

/** @param value id of a version; empty = as it stands now. Rule R70. */
export function stateChoice(
  versions: readonly Version[],
  value: string,
  onValue: (version: string) => void,
): TemplateResult {
  const when = (at: number): string =>
    new Date(at).toLocaleDateString(currentLanguage(), { dateStyle: 'medium' });
  return choiceField({
    id: 'state',
    label: t('lesson.state'),
    value,
    choices: [
      ['', t('lesson.state.now')] as const,
      ...versions.map(({ id, name, at }) => [id, `${name}, ${when(at)}`] as const),
    ],
    onValue,
  });
}
