/** What is said beside the name of a thread: that it needs one of its own, or that another colour goes by the same. Rules W971, W972. */
import { html, nothing, type TemplateResult } from 'lit';
import type { DressedColour } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { colourWord } from './colour-word.ts';
import { type SetKeychain, sharedName } from './keychains.ts';

export interface ThreadName {
  readonly look: DressedColour;
  readonly keychain: SetKeychain;
  readonly keychains: readonly SetKeychain[];
  readonly onName: (name: string) => void;
}

/** Needs the texts of the group `set`. */
export function threadName(asked: ThreadName): TemplateResult | typeof nothing {
  const { look, keychain, keychains, onName } = asked;
  if (look.isUnnamed) {
    const word = colourWord(look.hex);
    // What is stored as its name and not shown: that of the board's colour.
    const left = keychain.colourway?.colours.find(({ id }) => id === look.id)?.name ?? '';
    return html`<b>${left === '' ? t('set.nameIt') : t('set.nameItAnew', { name: left })}</b>
      <button class="call" @click=${() => onName(word)}>${t('set.callIt', { word })}</button>`;
  }
  const other = sharedName(look, keychain, keychains);
  return other === null ? nothing : html`${t('set.sharedName', { name: look.name, keychain: other })}`;
}
