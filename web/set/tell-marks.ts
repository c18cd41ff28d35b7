/** What is to be looked at in one colourway, in whole sentences. */
import { html, nothing, type TemplateResult } from 'lit';
import { type AlikePair, isHung } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { namesIn, placesIn, type SetKeychain } from './keychains.ts';

/** Needs the texts of the groups `set` and `panels`. */
export function renderMarks(keychain: SetKeychain): TemplateResult {
  const { board, plan, showing, apart, missing, joined, alike, isFine } = keychain.marks;
  const hung = isHung(board.piece);
  if (isFine) return html`<p class="good">✓ ${t(hung ? 'set.say.fine' : 'begin.setFine')}</p>`;
  const hexes = new Map(keychain.looks.map(({ id, hex }) => [id, hex]));
  const swatches = (ids: readonly string[]): readonly TemplateResult[] =>
    ids.map(
      (id) =>
        html`<span class="swatch" style="background: ${hexes.get(id) ?? 'none'}" aria-hidden="true"></span>`,
    );
  return html`
    ${
      !hung
        ? nothing
        : plan === null
          ? html`<p class="quiet">${t('set.say.planning')}</p>`
          : plan.neat
            ? html`<p class="good">✓ ${t('mount.neat')}</p>`
            : html`<p class="warn">${swatches(showing)} ${t('set.say.crossings', { count: plan.crossings.length, colours: namesIn(keychain, showing) })}</p>`
    }
    ${joined.map((group) => html`<p>${swatches(group.slice(0, 1))} ${t(hung ? 'set.say.joined' : 'begin.setJoined', { names: placesIn(keychain, group) })}</p>`)}
    ${apart === null ? nothing : html`<p class="quiet">${t('set.say.apart', { crossings: apart.crossings, singles: apart.furtherSingles })}</p>`}
    ${alike.map((pair) => html`<p class=${pair.degree === 'alike' ? 'warn' : ''}>${swatches(pair.colours)} ${tellPair(keychain, pair)}</p>`)}
    ${missing.length === 0 ? nothing : html`<p class="warn">${swatches(missing)} ${t('set.say.missing', { names: namesIn(keychain, missing) })}</p>`}
  `;
}

function tellPair(
  keychain: SetKeychain,
  { colours: [one, two], degree, hardFor, meetings }: AlikePair,
): string {
  const values = {
    first: namesIn(keychain, [one]),
    second: namesIn(keychain, [two]),
    sights: hardFor.map((sight) => t(`check.short.${sight}`)).join(', '),
  };
  const pair = t(degree === 'alike' ? 'check.alike' : 'check.hard', values);
  return `${pair} ${meetings === 0 ? t('set.say.apartInPicture') : t('set.say.meet', { count: meetings })}`;
}
