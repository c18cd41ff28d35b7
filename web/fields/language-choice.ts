/** Chooses the language of the page; nothing that is open is lost by it. */
import { html, type TemplateResult } from 'lit';
import { currentLanguage, keepLanguage, LANGUAGES, type Language, speak, t } from '../text/index.ts';
import { redrawAll } from './redraw.ts';

/** Whether the last choice could not be fetched; said until another one is made. */
let hasFailed = false;

async function change(select: HTMLSelectElement): Promise<void> {
  const chosen = select.value as Language;
  hasFailed = false;
  try {
    await speak(chosen);
  } catch (error) {
    // The browser says no more than that the module could not be fetched; the choice stays as it was.
    if (!(error instanceof TypeError)) throw error;
    hasFailed = true;
    select.value = currentLanguage();
    redrawAll();
    return;
  }
  keepLanguage(chosen);
  redrawAll();
}

export function languageChoice(): TemplateResult {
  const now = currentLanguage();
  return html`<select
    class="language"
    aria-label=${t('app.language')}
    @change=${(event: Event) => void change(event.target as HTMLSelectElement)}
  >
    ${Object.entries(LANGUAGES).map(
      ([tag, { name }]) => html`<option value=${tag} lang=${tag} .selected=${tag === now}>${name}</option>`,
    )}
  </select>${hasFailed ? html`<span class="warn small" role="alert">${t('app.notFetched')}</span>` : ''}`;
}
