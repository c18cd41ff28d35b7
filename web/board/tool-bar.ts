/** The tool bar and the strip of colours, as templates: the board element holds the state. */
import { html, nothing, type TemplateResult } from 'lit';
import type { KnotCode } from '../../engine/index.ts';
import { icon, knotIcon } from '../icons/index.ts';
import { closeFolded, placeFolded } from '../styles/index.ts';
import { t } from '../text/index.ts';
import type { ActionHost, Look } from './board-action.ts';
import { actionOf, isAllowed } from './board-actions.ts';
import type { Places } from './knot-choice.ts';
import { keysOf } from './own-keys.ts';
import { SheetEvent } from './sheet-event.ts';

/** One action as a button with an icon. */
function actionButton(host: ActionHost, id: string, picture?: TemplateResult): TemplateResult {
  const action = actionOf(id);
  const name = t(action.key);
  const keys = keysOf(action)[0];
  return html`<button
    class="tool"
    data-action=${id}
    data-key=${keys?.length === 1 ? keys : nothing}
    aria-label=${name}
    title=${keys === undefined ? name : `${name} (${keys})`}
    aria-pressed=${action.isOn === undefined ? nothing : action.isOn(host)}
    ?disabled=${!isAllowed(action, host)}
    @click=${() => action.run(host)}
  >${picture ?? (action.icon === undefined ? nothing : icon(action.icon))}<span class="name" aria-hidden="true">${name}</span></button>`;
}

/** What to tie, and these actions with it. */
function knotTools(host: ActionHost, more: readonly string[]): TemplateResult {
  return html`<div class="group" role="group" aria-label=${t('board.knots')}>
      ${([1, 2, 3, 4, 0] as readonly KnotCode[]).map((knot) => actionButton(host, `knot-${knot}`, knotIcon(knot)))}
      ${more.map((id) => actionButton(host, id))}
    </div>`;
}

/** What has a place of its own where there is room, and on a phone stands in the sheet of tools: what to tie, the looks, zooming. */
function phoneTools(host: ActionHost): TemplateResult {
  return html`${knotTools(host, ['show', 'swap'])}
    <div class="group" role="group" aria-label=${t('board.view')}>
      ${['look-chart', 'look-paths', 'look-finished', 'wish', 'beside', 'fit', 'zoom-in', 'zoom-out', 'true-shape'].map((id) => actionButton(host, id))}
    </div>`;
}

/** What is in hand, in words: the tool, or what it ties. */
function inHand({ editor: { tool, ink } }: ActionHost): string {
  const id = tool !== 'tie' ? `tool-${tool}` : ink.kind === 'show' ? 'show' : `knot-${ink.knot}`;
  return t(actionOf(id).key);
}

export function toolBar(host: ActionHost, isPhone = false): TemplateResult {
  return html`<div class="tools" role="toolbar" aria-label=${t('board.tools')}>
    ${isPhone ? nothing : knotTools(host, ['show'])}
    <button class="tool more" popovertarget="tools" aria-label=${`${inHand(host)}: ${t('board.allTools')}`} title=${t('board.allTools')}>
      ${icon(host.editor.tool)}<span class="now">${inHand(host)}</span><span class="corner" aria-hidden="true"></span>
    </button>
    <button class="finger" aria-pressed=${host.fingerTies} @click=${() => (host.fingerTies = !host.fingerTies)}>${t(host.fingerTies ? 'board.finger.ties' : 'board.finger.moves')}</button>
    <div id="tools" class="folded" popover @toggle=${placeFolded} @click=${closeFolded}>${isPhone ? phoneTools(host) : nothing}
    <div class="group" role="group" aria-label=${t('board.ways')}>
      ${['tool-tie', 'tool-line', 'tool-fill', 'mirror'].map((id) => actionButton(host, id))}
    </div>
    <div class="group" role="group" aria-label=${t('board.other')}>
      ${['tool-select', 'tool-trace', 'tool-pick', 'tool-pan'].map((id) => actionButton(host, id))}
    </div>
    <div class="group" role="group" aria-label=${t('board.group.help')}>
      ${['commands', 'shortcuts'].map((id) => actionButton(host, id))}
    </div>
    </div>
  </div>`;
}

const PLACES: readonly (readonly [
  Places,
  'board.places.asThey' | 'board.places.keep' | 'board.places.change',
])[] = [
  ['as they are', 'board.places.asThey'],
  ['keep', 'board.places.keep'],
  ['change', 'board.places.change'],
];

export interface ColourStripOptions {
  readonly isSwapping: boolean;
  readonly onColour: (id: string) => void;
}

/**
 * The palette as swatches, and beside it what becomes of the places when a colour is tied. Where nothing can be chosen the row itself takes the
 * keyboard: it may have to be scrolled.
 */
export function colourStrip(host: ActionHost, options: ColourStripOptions): TemplateResult {
  const { editor } = host;
  const { palette } = editor.model.board;
  const onKey = ({ key }: KeyboardEvent): void => {
    if (key === 'Escape' && options.isSwapping) host.startSwap();
  };
  return html`<div class="colours" role="toolbar" aria-label=${t('board.colours')} @keydown=${onKey}>
    <div class="swatches" role="group" tabindex=${editor.canEdit ? nothing : 0}>
      ${palette.map(
        ({ id, name, hex }) => html`<button
          class="swatch-button"
          aria-label=${t('board.swatch', { name: name || id })}
          title=${name || id}
          aria-pressed=${editor.colour === id}
          ?disabled=${!editor.canEdit}
          @click=${() => options.onColour(id)}
        ><span style="background:${hex}"></span></button>`,
      )}
    </div>
    <button
      class="tool"
      data-action="swap"
      aria-label=${t('board.act.swap')}
      title=${t('board.act.swap')}
      aria-pressed=${options.isSwapping}
      ?disabled=${!editor.canEdit || palette.length < 2}
      @click=${() => host.startSwap()}
    >${icon('swap')}</button>
    ${
      editor.ink.kind === 'show'
        ? html`<select
            class="places"
            aria-label=${t('board.places.label')}
            @change=${(event: Event) => editor.chooseShowing((event.target as HTMLSelectElement).value as Places)}
          >${PLACES.map(([value, key]) => html`<option value=${value} ?selected=${editor.places === value}>${t(key)}</option>`)}</select>`
        : nothing
    }
    <button class="panels" @click=${() => host.dispatchEvent(new SheetEvent())}>${t('board.panels')}</button>
  </div>`;
}

/** What is shown beside the first look: not the same again; null where nothing is. */
export function secondLook({ look, isBeside, besideLook }: ActionHost): Look | null {
  if (!isBeside || look === 'finished') return null;
  return besideLook === look ? 'finished' : besideLook;
}

function besideChoice(host: ActionHost): TemplateResult {
  const looks = (['finished', 'paths', 'chart'] as const).filter((look) => look !== host.look);
  return html`<select
    class="places"
    aria-label=${t('board.besideWhich')}
    @change=${(event: Event) => host.showBeside(true, (event.target as HTMLSelectElement).value as Look)}
  >${looks.map((look) => html`<option value=${look} .selected=${secondLook(host) === look}>${t(`board.look.${look}`)}</option>`)}</select>`;
}

/** The looks, and zooming, over a corner of the board. */
export function viewControls(host: ActionHost): TemplateResult {
  return html`<div class="looks" role="group" aria-label=${t('board.look')}>
      ${['look-chart', 'look-paths', 'look-finished', 'wish'].map((id) => {
        const action = actionOf(id);
        return html`<button
          data-action=${id}
          aria-pressed=${action.isOn?.(host) ?? false}
          @click=${() => action.run(host)}
        >${t(action.key)}</button>`;
      })}
      ${actionButton(host, 'beside')}
      ${secondLook(host) === null ? nothing : besideChoice(host)}
    </div>
    <div class="zoom" role="group" aria-label=${t('board.view')}>
      ${['zoom-out', 'fit', 'zoom-in', 'true-shape'].map((id) => actionButton(host, id))}
    </div>`;
}
