/** What the words mean, how the drawings are read, what each panel is for. Needs the texts of the group `help`. */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { BACKWARD, BACKWARD_FORWARD, FORWARD, FORWARD_BACKWARD } from '../../engine/index.ts';
import { actionOf, followOwnKeys, keysOf } from '../board/index.ts';
import { Subscriptions } from '../context/index.ts';
import { languageChoice } from '../fields/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import {
  crossingDrawing,
  headDrawing,
  knotDrawing,
  nestedDrawing,
  triangleDrawing,
} from './help-drawings.ts';
import { toolList } from './help-tools.ts';

const KNOTS = [
  ['f', FORWARD],
  ['b', BACKWARD],
  ['fb', FORWARD_BACKWARD],
  ['bf', BACKWARD_FORWARD],
] as const;

const TERMS = [
  'thread',
  'skein',
  'cord',
  'string',
  'place',
  'peg',
  'bar',
  'float',
  'row',
  'knotting',
  'carrier',
  'repeat',
  'leadIn',
  'single',
  'neat',
  'gauge',
  'swatch',
  'plusMinus',
  'colourway',
  'pickUp',
  'proposal',
] as const;

const DATA = ['archive', 'load', 'delete', 'browser'] as const;

@spoken
export class LbHelpPage extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: block;
        max-width: 1000px;
        margin: 0 auto;
        padding: var(--lb-space-5) var(--lb-space-4);
      }
      header,
      nav {
        display: flex;
        flex-wrap: wrap;
        justify-content: space-between;
        align-items: start;
        gap: var(--lb-space-3);
      }
      section {
        display: grid;
        gap: var(--lb-space-3);
        margin-block-start: var(--lb-space-6);
      }
      p {
        max-width: 68ch;
      }
      .cards {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(100%, 205px), 1fr));
        gap: var(--lb-space-4);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      .cards li {
        display: grid;
        align-content: start;
        gap: var(--lb-space-2);
        padding: var(--lb-space-4);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
      }
      h3 {
        font-size: var(--lb-size-body);
        font-weight: 650;
      }
      svg {
        max-width: 100%;
        height: auto;
        justify-self: center;
        /* Left and right of a band do not change with the direction of writing. */
        direction: ltr;
      }
      .edge {
        stroke: var(--lb-text);
      }
      .line {
        stroke: var(--lb-text);
        stroke-width: 1;
      }
      .bar {
        stroke: var(--lb-line-strong);
      }
      .halo {
        stroke: var(--lb-surface);
      }
      .fault {
        stroke: var(--lb-warn);
      }
      dl {
        display: grid;
        grid-template-columns: minmax(8em, auto) minmax(0, 1fr);
        gap: var(--lb-space-2) var(--lb-space-4);
        margin: 0;
      }
      dt {
        font-weight: 650;
      }
      dd {
        margin: 0;
        max-width: 64ch;
      }
      .tools {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(100%, 300px), 1fr));
        gap: var(--lb-space-2) var(--lb-space-5);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      .tools li {
        display: grid;
        grid-template-columns: 26px minmax(0, 1fr) auto;
        align-items: center;
        gap: var(--lb-space-3);
      }
      kbd {
        min-width: 1.8em;
        padding: 1px 6px;
        border: 1px solid var(--lb-line);
        border-radius: 4px;
        background: var(--lb-sunken);
        font: inherit;
        font-size: var(--lb-size-small);
        text-align: center;
      }
      ul.plain {
        margin: 0;
        padding-inline-start: 1.2em;
        max-width: 68ch;
      }
      @media (max-width: 560px) {
        dl {
          grid-template-columns: minmax(0, 1fr);
          gap: 0;
        }
        dd {
          margin-block-end: var(--lb-space-3);
        }
      }
      @media (forced-colors: active) {
        svg {
          forced-color-adjust: none;
          background: #fff;
          --lb-text: #000;
          --lb-surface: #fff;
          --lb-warn: #a00000;
          --lb-line-strong: #666;
        }
      }
    `,
  ];

  readonly #subscriptions = new Subscriptions(this);

  override connectedCallback(): void {
    super.connectedCallback();
    this.#subscriptions.keep(followOwnKeys(() => this.requestUpdate()));
  }

  protected override render(): TemplateResult {
    document.title = `${t('help.heading')} · ${t('app.name')}`;
    const caution = ['children', 'neck', 'nickel', 'hands', 'local'] as const;
    return html`
      <header>
        <div>
          <h1>${t('help.heading')}</h1>
          <p class="quiet">${t('help.lead')}</p>
        </div>
        <nav aria-label=${t('app.name')}><a class="button" href="/">${t('board.back')}</a>${languageChoice()}</nav>
      </header>
      <main>
        <section aria-labelledby="knots">
          <h2 id="knots">${t('help.knots')}</h2>
          <p>${t('help.knotsLead')}</p>
          <ul class="cards">
            ${KNOTS.map(([id, code]) => {
              const name = t(`help.knot.${id}`);
              return html`<li>${knotDrawing(id, code, name)}<h3>${name}</h3><p>${t(`help.knot.${id}Text`)}</p><p class="quiet token">${t('help.knot.token', { token: id })}</p></li>`;
            })}
          </ul>
        </section>
        <section aria-labelledby="mounting">
          <h2 id="mounting">${t('help.mounting')}</h2>
          <ul class="cards">
            <li>${headDrawing()}<h3>${t('help.head')}</h3><p>${t('help.headText')}</p></li>
            <li>${nestedDrawing()}<h3>${t('help.nested')}</h3><p>${t('help.nestedText')}</p></li>
            <li>${crossingDrawing()}<h3>${t('help.crossing')}</h3><p>${t('help.crossingText')}</p></li>
            <li>${triangleDrawing()}<h3>${t('help.triangle')}</h3><p>${t('help.triangleText')}</p></li>
          </ul>
          <p>${t('help.noRing')}</p>
        </section>
        <section aria-labelledby="tools">
          <h2 id="tools">${t('help.tools')}</h2>
          ${toolList()}
          <p>${t('help.toolsText')}</p>
        </section>
        <section aria-labelledby="glossary">
          <h2 id="glossary">${t('help.glossary')}</h2>
          <dl>${TERMS.map((term) => html`<dt>${t(`help.term.${term}`)}</dt><dd>${t(`help.term.${term}Text`)}</dd>`)}</dl>
        </section>
        <section aria-labelledby="panels">
          <h2 id="panels">${t('help.panels')}</h2>
          <dl>
            <dt>${t('board.look.chart')}</dt><dd>${t('help.panel.board')}</dd>
            <dt>${t('panels.mounting')}</dt><dd>${t('help.panel.mounting')}</dd>
            <dt>${t('panels.colours')}</dt><dd>${t('palette.purpose')}</dd>
            <dt>${t('panels.cutting')}</dt><dd>${t('cut.purpose')}</dd>
            <dt>${t('panels.cost')}</dt><dd>${t('cost.purpose')}</dd>
            <dt>${t('panels.gauge')}</dt><dd>${t('gauge.purpose')}</dd>
            <dt>${t('panels.work')}</dt><dd>${t('work.purpose')}</dd>
            <dt>${t('panels.symmetry')}</dt><dd>${t('sym.purpose')}</dd>
            <dt>${t('panels.piece')}</dt><dd>${t('piece.purpose')}</dd>
            <dt>${t('panels.talk')}</dt><dd>${t('help.panel.talk')}</dd>
            <dt>${t('panels.proposals')}</dt><dd>${t('help.panel.proposals')}</dd>
            <dt>${t('panels.versions')}</dt><dd>${t('help.panel.versions')}</dd>
            <dt>${t('panels.notes')}</dt><dd>${t('notes.purpose')}</dd>
            <dt>${t('board.set')}</dt><dd>${t('help.panel.set')}</dd>
          </dl>
        </section>
        <section aria-labelledby="ways"><h2 id="ways">${t('help.ways')}</h2><p>${t('help.waysText')}</p></section>
        <section aria-labelledby="together"><h2 id="together">${t('help.together')}</h2><p>${t('help.togetherText')}</p></section>
        <section aria-labelledby="talk"><h2 id="talk">${t('help.talk')}</h2><p>${t('help.talkText', { key: keysOf(actionOf('say-here'))[0] ?? '–' })}</p></section>
        <section aria-labelledby="lesson"><h2 id="lesson">${t('help.lesson')}</h2><p>${t('help.lessonText')}</p></section>
        <section aria-labelledby="data">
          <h2 id="data">${t('help.data')}</h2>
          <dl>${DATA.map((what) => html`<dt>${t(`help.data.${what}`)}</dt><dd>${t(`help.data.${what}Text`)}</dd>`)}</dl>
        </section>
        <section aria-labelledby="care">
          <h2 id="care">${t('help.care')}</h2>
          <ul class="plain">${caution.map((key) => html`<li>${t(`caution.${key}`)}</li>`)}</ul>
        </section>
      </main>
    `;
  }
}
