/** Where am I? By the colours that hang, tapped in; where many places hang alike, by the colours of the lowest knots. */
import { html, type TemplateResult } from 'lit';
import {
  askPlace,
  type LowKnot,
  placesIn,
  rowParity,
  type SeenKnot,
  knotsInRow,
  stepKey,
} from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { stepWords } from '../words/index.ts';
import { type Aided, type AidHost, colourOf } from './aid-host.ts';
import { sayWhere } from './say-group.ts';
import type { TableWork } from './table-work.ts';
import { knotSeen, placeSeen, sideSeen, type Sight, sightOf } from './views.ts';

/** Places that are listed; of more it is asked which. */
export const MOST_PLACES = 5;

/** What is known of the place so far. */
type Whereabouts =
  | { readonly kind: 'tapping' }
  | {
      readonly kind: 'found';
      /** Numbers of steps done, nearest to the kept one first. */
      readonly places: readonly number[];
      /** How many hang so. */
      readonly hanging: number;
      /** What to look at next; null where nothing is asked. */
      readonly ask: LowKnot | null;
    };

/** @param hangs from the left. Rule N43. */
export function whereabouts(
  { board, steps, at }: TableWork,
  hangs: readonly string[],
  seen: readonly SeenKnot[],
): Whereabouts {
  if (hangs.length < board.pattern.colours.length) return { kind: 'tapping' };
  const all = placesIn(board, steps, hangs);
  const { places, ask } = askPlace(board, steps, all, seen, at);
  return { kind: 'found', places, hanging: all.length, ask: all.length > MOST_PLACES ? ask : null };
}

export class AidWhere {
  readonly #host: AidHost;
  /** In the order in which they were tapped in: from the side from which places are counted. */
  #hangs: readonly string[] = [];
  #seen: readonly SeenKnot[] = [];
  #isAll = false;

  constructor(host: AidHost) {
    this.#host = host;
  }

  render(aided: Aided): TemplateResult {
    const { work } = aided;
    const sight = sightOf(aided.keychain.view);
    const hangs = sight.from === 'left' ? this.#hangs : [...this.#hangs].reverse();
    const found = whereabouts(work, hangs, this.#seen);
    const ask = found.kind === 'found' ? found.ask : null;
    return html`<p class="said" role="status">${this.#say(found, work, sight)}</p>
      ${this.#renderStrip(work, ask, sight)}
      ${found.kind === 'tapping' || ask !== null ? this.#renderTaps(work, ask) : ''}
      <p class="line">
        <button ?disabled=${this.#hangs.length === 0} @click=${() => this.#unsay()}>${t('aid.where.undo')}</button>
        <button ?disabled=${this.#hangs.length === 0} @click=${() => this.#set([], [])}>${t('table.mount.anew')}</button>
      </p>
      ${found.kind === 'found' && found.places.length > 0 ? this.#renderPlaces(found.places, aided) : ''}`;
  }

  #say(found: Whereabouts, { board }: TableWork, sight: Sight): string {
    if (found.kind === 'tapping')
      return t('aid.where.tap', { from: t(`table.from.${sideSeen(sight.from, sight)}`) });
    const { places, hanging, ask } = found;
    if (hanging === 0) return t('aid.where.none');
    if (places.length === 0) return t('aid.where.noneSeen');
    if (places.length === 1) return t('aid.where.one');
    if (ask !== null) {
      const { number, from } = placeSeen(ask.place, board.pattern.colours.length, sight);
      const at = { place: stepWords().ordinal(number), from: t(`table.from.${from}`) };
      return t(`aid.where.ask.${ask.above as 0 | 1 | 2}`, at);
    }
    return t(hanging > MOST_PLACES ? 'aid.where.alike' : 'aid.where.few', { count: places.length });
  }

  #renderStrip({ board }: TableWork, ask: LowKnot | null, sight: Sight): TemplateResult {
    const names = this.#hangs.map((id) => colourOf(board, id).name);
    const strings = board.pattern.colours.length;
    const left = strings - this.#hangs.length;
    const asked = ask === null ? -1 : placeSeen(ask.place, strings, sight).number - 1;
    return html`<p class="strip ${sideSeen(sight.from, sight)}" role="img" aria-label=${t('table.tie.hangs', { colours: names.join(', ') })}>
      ${this.#hangs.map((id, place) => html`<span class=${place === asked ? 'wrong' : ''} style="background: ${colourOf(board, id).hex}"></span>`)}
      ${Array.from({ length: left }, () => html`<span class="open"></span>`)}
    </p>`;
  }

  #renderTaps({ board }: TableWork, ask: LowKnot | null): TemplateResult {
    const tap = (colour: string | null): void => {
      if (ask !== null) this.#set(this.#hangs, [...this.#seen, { ...ask, colour }]);
      else if (colour !== null) this.#set([...this.#hangs, colour], []);
    };
    return html`<p class="line taps">
      ${[...new Set(board.pattern.colours)].map((id) => {
        const { name, hex } = colourOf(board, id);
        return html`<button aria-label=${ask === null ? t('table.mount.tap', { colour: name }) : name} title=${name} @click=${() => tap(id)}><span class="swatch" style="background: ${hex}"></span></button>`;
      })}
      ${ask === null ? '' : html`<button class="wide" @click=${() => tap(null)}>${t('aid.where.noKnot')}</button>`}
    </p>`;
  }

  #renderPlaces(places: readonly number[], aided: Aided): TemplateResult {
    const shown = this.#isAll ? places : places.slice(0, MOST_PLACES);
    return html`<ul class="places">${shown.map((place) => this.#renderPlace(place, aided))}</ul>
      ${
        places.length === shown.length
          ? ''
          : html`<button @click=${() => {
              this.#isAll = true;
              this.#host.update();
            }}>${t('aid.where.all', { count: places.length })}</button>`
      }`;
  }

  #renderPlace(place: number, { work, keychain }: Aided): TemplateResult {
    const { steps, at } = work;
    const away = place - at;
    const far =
      away === 0
        ? t('aid.where.kept')
        : t(away > 0 ? 'aid.where.on' : 'aid.where.back', { count: Math.abs(away) });
    return html`<li><button class="place" @click=${() => this.#host.take({ tied: new Set(steps.slice(0, place).map(stepKey)) })}>
      <b>${sayPlace(work, place, sightOf(keychain.view))}</b><span class="small quiet">${far}</span></button></li>`;
  }

  #unsay(): void {
    if (this.#seen.length > 0) this.#set(this.#hangs, this.#seen.slice(0, -1));
    else this.#set(this.#hangs.slice(0, -1), []);
  }

  #set(hangs: readonly string[], seen: readonly SeenKnot[]): void {
    this.#hangs = hangs;
    this.#seen = seen;
    this.#isAll = false;
    this.#host.update();
  }
}

/** By the knot that is tied next there. */
export function sayPlace({ board, steps }: TableWork, place: number, sight: Sight): string {
  const next = steps[place];
  if (next === undefined) return t('aid.where.end');
  const { colours, start } = board.pattern;
  return t('aid.where.next', {
    where: sayWhere(next),
    knot: knotSeen(next, board.pattern, sight),
    knots: knotsInRow(colours.length, rowParity(start, next.row)),
  });
}
