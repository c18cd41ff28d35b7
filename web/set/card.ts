/** One keychain of the set: its picture, its name, whose it is, and what is to be said about it, as a tab. */
import { html, nothing, type TemplateResult } from 'lit';
import { type Colourway, type ColourwayMarks, isHung } from '../../engine/index.ts';
import type { BandSide } from '../board/index.ts';
import type { PersonHere } from '../sync/index.ts';
import { t } from '../text/index.ts';
import { isMine, type Me } from './rights.ts';
import { nameOfKeychain, type SetKeychain, unnamedIn } from './keychains.ts';

export interface CardOptions {
  /** Its place among the keychains; names its tab. */
  readonly index: number;
  readonly isChosen: boolean;
  readonly side: BandSide;
  readonly me: Me;
  readonly people: readonly PersonHere[];
  readonly onChoose: () => void;
}

/** Whether what the set shows of who is here is another: who they are and what they have open, not where on the board. */
export function isOtherCompany(now: readonly PersonHere[], before: readonly PersonHere[] = []): boolean {
  const personsOf = (people: readonly PersonHere[]): string =>
    JSON.stringify(people.map(({ presence: { person, open } }) => [person, open]));
  return personsOf(now) !== personsOf(before);
}

/** What somebody is called now, when they are here, else what they were called when it was given to them. */
export function makerName({ maker }: Colourway, people: readonly PersonHere[]): string | null {
  if (maker === undefined) return null;
  const here = people.find(({ presence }) => presence.person.id === maker.id);
  return here?.presence.person.name || maker.name || t('set.unnamed');
}

/** Whose a keychain is, in a word or two. */
export function whose(colourway: Colourway | null, me: Me, people: readonly PersonHere[]): string {
  if (colourway === null) return t('set.whose.base');
  if (isMine(me, colourway)) return t('set.whose.mine');
  const name = makerName(colourway, people);
  return name === null ? t('set.whose.nobody') : t('set.whose.somebody', { name });
}

interface ShortMark {
  readonly kind: 'good' | 'warn' | 'note';
  readonly text: string;
}

/** The marks in short, worst first; on a ring the first says whether it mounts neatly. */
export function shortMarks(marks: ColourwayMarks): readonly ShortMark[] {
  const { board, plan, alike, missing, joined } = marks;
  const same = alike.filter(({ degree }) => degree === 'alike').length;
  const hard = alike.length - same;
  const one = joined.reduce((sum, group) => sum + group.length, 0);
  const mounted = (): ShortMark =>
    plan === null
      ? { kind: 'note', text: t('set.mark.planning') }
      : plan.neat
        ? { kind: 'good', text: t('set.mark.neat') }
        : { kind: 'warn', text: t('set.mark.crossings', { count: plan.crossings.length }) };
  return [
    ...(isHung(board.piece) ? [mounted()] : []),
    ...(same > 0 ? [{ kind: 'warn', text: t('set.mark.alike', { count: same }) } as const] : []),
    ...(hard > 0 ? [{ kind: 'warn', text: t('set.mark.hard', { count: hard }) } as const] : []),
    ...(one > 0 ? [{ kind: 'note', text: t('set.mark.joined', { count: one }) } as const] : []),
    ...(missing.length > 0
      ? [{ kind: 'warn', text: t('set.mark.missing', { count: missing.length }) } as const]
      : []),
  ];
}

export function renderCard(keychain: SetKeychain, options: CardOptions): TemplateResult {
  const { colourway, marks, model } = keychain;
  const { index, isChosen, side, me, people, onChoose } = options;
  const here = people.find(({ presence }) => presence.person.id === colourway?.maker?.id);
  const hex = here?.presence.person.hex;
  const unnamed = unnamedIn(keychain).length;
  return html`<button
    role="tab"
    class="keychain ${colourway !== null && isMine(me, colourway) ? 'mine' : ''}"
    id="tab-${index}"
    aria-selected=${isChosen}
    aria-controls="editor"
    tabindex=${isChosen ? 0 : -1}
    @click=${onChoose}
  >
    <lb-keychain .model=${model} .side=${side}></lb-keychain>
    <span class="name">${nameOfKeychain(keychain)}</span>
    <span class="whose">${hex === undefined ? nothing : html`<i class="dot" style="--who: ${hex}"></i>`}${whose(colourway, me, people)}</span>
    <span class="marks">${shortMarks(marks).map(({ kind, text }) => html`<span class="mark ${kind}">${text}</span>`)}${unnamed === 0 ? nothing : html`<span class="mark note">${t('set.mark.unnamed', { count: unnamed })}</span>`}</span>
  </button>`;
}
