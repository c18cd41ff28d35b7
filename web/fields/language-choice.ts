/** Chooses the language of the page; nothing that is open is lost by it. */
import { html, type TemplateResult } from 'lit';
import { tellMissing, tryFetch } from '../parts/index.ts';
import { currentLanguage, keepLanguage, LANGUAGES, type Language, speak, t } from '../text/index.ts';

async function change(select: HTMLSelectElement, chosen: Language): Promise<void> {
  const spoken = await tryFetch(() => speak(chosen));
  if (spoken.ok) {
    keepLanguage(chosen);
    return;
  }
  select.value = currentLanguage();
  tellMissing(spoken.error.kind, () => change(select, chosen));
}

export function languageChoice(): TemplateResult {
  const now = currentLanguage();
  return html`<select
    class="language"
    aria-label=${t('app.language')}
    @change=${(event: Event) => {
      const select = event.target as HTMLSelectElement;
      void change(select, select.value as Language);
    }}
  >
    ${Object.entries(LANGUAGES).map(
      ([tag, { name }]) => html`<option value=${tag} lang=${tag} .selected=${tag === now}>${name}</option>`,
    )}
  </select>`;
}
