/**
 * What is said of one keychain of the set, and what its maker does to it: whose it is, its colours, how it mounts, what to cut, what to print.
 *
 * @fires lb-refused A command that was not done, with the reason.
 * @fires lb-removed The colourway was removed here.
 */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type Command, type Design, LATER_COMMANDS, type TextPlace } from '../../engine/document/index.ts';
import { type Board, type Colourway, type ColourwayMaker, formatBoard, isHung } from '../../engine/index.ts';
import { type BandSide, RefusedEvent, type ShownBoard, shownBoard } from '../board/index.ts';
import { provide, Subject } from '../context/index.ts';
import { choiceField } from '../fields/index.ts';
import { fileName, saveFile } from '../files/index.ts';
import { fetchPart, type MissingKind, missingPart } from '../parts/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { type PersonHere, whoHasOpen } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayError } from '../words/index.ts';
import { makerName, whose } from './card.ts';
import { isMine, type Me, mayAssign, mayChange } from './rights.ts';
import { keyOf, nameOfKeychain, type SetKeychain } from './keychains.ts';
import { removeQuestion } from './remove-question.ts';
import { RemovedEvent } from './set-events.ts';
import { renderMarks } from './tell-marks.ts';

const VIEWS = ['colours', 'mounting', 'cutting', 'out'] as const;
type View = (typeof VIEWS)[number];

@spoken
export class LbSetEditor extends LitElement {
  static override styles = [
    controls,
    panelStyles,
    css`
      :host {
        display: grid;
        align-content: start;
        gap: var(--lb-space-4);
        padding: var(--lb-space-4);
      }
      .head {
        display: grid;
        grid-template-columns: minmax(0, 1fr);
        gap: var(--lb-space-3);
        align-items: start;
      }
      .head lb-keychain {
        display: none;
        height: 200px;
      }
      .title {
        display: grid;
        gap: var(--lb-space-3);
        min-width: 0;
      }
      .title input {
        width: 100%;
        font-size: var(--lb-size-lead);
        font-weight: 650;
      }
      .whose {
        display: flex;
        flex-wrap: wrap;
        align-items: end;
        gap: var(--lb-space-2);
      }
      .whose .field {
        flex: 1 1 14ch;
      }
      .say {
        display: grid;
        gap: var(--lb-space-2);
      }
      .say .swatch {
        margin-inline-end: 2px;
      }
      .views {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-1);
        border-block-end: 1px solid var(--lb-line);
        padding-block-end: var(--lb-space-3);
      }
      .views button {
        flex: 1 0 auto;
        font-size: var(--lb-size-small);
        font-weight: 600;
      }
      .right {
        padding: var(--lb-space-2) var(--lb-space-3);
        border-inline-start: 4px solid var(--lb-line-strong);
        background: var(--lb-sunken);
        font-size: var(--lb-size-small);
      }
      .wrong {
        color: var(--lb-warn);
        font-size: var(--lb-size-small);
        font-weight: 600;
      }
      .panel {
        display: grid;
        gap: var(--lb-space-4);
        min-width: 0;
      }
      .out {
        display: grid;
        gap: var(--lb-space-3);
      }
      .out li {
        display: grid;
        gap: var(--lb-space-1);
        justify-items: start;
      }
      .remove {
        justify-self: start;
        color: var(--lb-warn);
      }
      .sure {
        display: grid;
        gap: var(--lb-space-2);
        padding: var(--lb-space-3);
        border: 1px solid var(--lb-warn);
        border-radius: var(--lb-radius);
        overflow-wrap: anywhere;
      }
      @media (max-width: 900px) {
        .head {
          grid-template-columns: 104px minmax(0, 1fr);
        }
        .head lb-keychain {
          display: block;
        }
      }
    `,
  ];

  @property({ attribute: false }) keychain!: SetKeychain;
  @property({ attribute: false }) keychains: readonly SetKeychain[] = [];
  @property({ attribute: false }) board!: Board;
  @property({ attribute: false }) boardId = '';
  @property({ attribute: false }) design!: Design;
  @property({ attribute: false }) people: readonly PersonHere[] = [];
  @property({ attribute: false }) me!: Me;
  @property({ attribute: false }) side: BandSide = 'front';
  @property({ type: Boolean }) isDemo = false;
  @state() private view: View = 'colours';
  @state() private loaded: ReadonlySet<View> = new Set<View>(['colours', 'out']);
  @state() private missing: MissingKind | null = null;
  @state() private copied = '';
  @state() private isRemoving = false;
  #key: string | null = null;
  /** The panels here speak of the keychain, in its colours, and change nothing. */
  readonly #shown = new Subject<ShownBoard | null>(null);

  constructor() {
    super();
    provide(this, shownBoard, this.#shown);
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    const { board } = this.keychain.marks;
    if (board !== this.#shown.value?.board || changed.has('design'))
      this.#shown.set({ board, design: this.design, canEdit: false });
    if (!changed.has('keychain')) return;
    const key = keyOf(this.keychain);
    if (key === this.#key) return;
    this.#key = key;
    this.copied = '';
    this.isRemoving = false;
  }

  protected override render(): TemplateResult {
    const { keychain, me } = this;
    const { colourway } = keychain;
    const may = colourway !== null && mayChange(me, colourway);
    return html`
      <div class="head">
        <lb-keychain .model=${keychain.model} .side=${this.side}></lb-keychain>
        <div class="title">
          ${
            colourway === null
              ? html`<h2>${nameOfKeychain(keychain)}</h2>`
              : may
                ? this.#renderName(colourway)
                : html`<div><h2>${nameOfKeychain(keychain)}</h2><p class="quiet">${whose(colourway, me, this.people)}</p></div>`
          }
          ${may ? this.#renderWhose(colourway) : nothing}
        </div>
      </div>
      ${this.#renderRight()}
      <div class="say">${renderMarks(keychain)}</div>
      <div class="views" role="group" aria-label=${t('set.views')}>
        ${VIEWS.map(
          (view) =>
            html`<button aria-pressed=${view === this.view} data-view=${view} @click=${() => this.#show(view)}>${t(view === 'mounting' && !isHung(keychain.marks.board.piece) ? 'panels.beginning' : `set.view.${view}`)}</button>`,
        )}
      </div>
      <div class="panel">${this.#renderView(may)}</div>
    `;
  }

  #renderName(colourway: Colourway): TemplateResult {
    const place: TextPlace = { of: 'colourway', id: colourway.id };
    return html`<lb-text-field class="field" labelled .design=${this.design} .place=${place} .label=${t('set.name')}></lb-text-field>`;
  }

  /** The owner gives it to whoever is here; others take what is nobody's and let go what is theirs. */
  #renderWhose(colourway: Colourway): TemplateResult {
    const { me } = this;
    const mine = isMine(me, colourway);
    const take = html`<button id="take" @click=${() => this.#assign(colourway, { id: me.id, name: me.name })}>${t('set.take')}</button>`;
    if (!mayAssign(me))
      return html`<div class="whose">
        <span>${t('set.whose')}: <b>${whose(colourway, me, this.people)}</b></span>
        ${mine ? html`<button id="let-go" @click=${() => this.#assign(colourway, null)}>${t('set.letGo')}</button>` : colourway.maker === undefined ? take : nothing}
      </div>`;
    const others = new Map<string, string>();
    for (const { presence } of this.people)
      if (presence.person.id !== me.id) others.set(presence.person.id, presence.person.name);
    if (colourway.maker !== undefined && !mine)
      others.set(colourway.maker.id, makerName(colourway, this.people) ?? '');
    const choices: (readonly [string, string])[] = [
      ['', t('set.assign.nobody')],
      [me.id, t('set.assign.me', { name: me.name })],
      ...others,
    ];
    return html`<div class="whose">
      ${choiceField<string>({
        id: 'whose',
        label: t('set.whose'),
        value: colourway.maker?.id ?? '',
        choices,
        onValue: (id) =>
          this.#assign(
            colourway,
            id === '' ? null : { id, name: id === me.id ? me.name : (others.get(id) ?? '') },
          ),
      })}
      ${mine ? nothing : take}
      <span class="quiet small">${t('set.assign.hint')}</span>
    </div>`;
  }

  #renderRight(): TemplateResult | typeof nothing {
    const { me, keychain } = this;
    const { colourway } = keychain;
    const say = (text: string): TemplateResult => html`<p class="right">${text}</p>`;
    if (!me.canEdit) return say(t(this.isDemo ? 'set.right.demo' : 'set.right.viewer'));
    if (colourway === null) return say(t('set.right.base'));
    if (!mayChange(me, colourway))
      return say(t('set.right.other', { name: makerName(colourway, this.people) ?? t('set.unnamed') }));
    return colourway.maker === undefined && !mayAssign(me) ? say(t('set.right.nobody')) : nothing;
  }

  #renderView(may: boolean): TemplateResult {
    const { keychain, view, board, design } = this;
    if (!this.loaded.has(view))
      return this.missing === null
        ? html`<p class="quiet" role="status">${t('panels.loading')}</p>`
        : missingPart(this.missing, () => this.#show(view));
    switch (view) {
      case 'colours':
        return html`<lb-set-colours .keychain=${keychain} .keychains=${this.keychains} .board=${board} .design=${design} ?may=${may}></lb-set-colours>
          ${may && keychain.colourway !== null ? this.#renderFoot(keychain.colourway) : nothing}`;
      case 'mounting':
        return html`<lb-mounting-panel></lb-mounting-panel>`;
      case 'cutting':
        return html`<lb-cutting-panel></lb-cutting-panel>`;
      case 'out':
        return this.#renderOut();
    }
  }

  #renderFoot(colourway: Colourway): TemplateResult {
    const others = this.keychains.filter((one) => one !== this.keychain);
    return html`
      <form class="actions" @submit=${(event: Event) => this.#copy(event, colourway)}>
        ${choiceField<string>({
          id: 'from',
          label: t('set.copyFrom'),
          value: keyOf(others[0]!),
          choices: others.map((one) => [keyOf(one), nameOfKeychain(one)]),
          onValue: () => {},
        })}
        <button id="copy" type="submit">${t('set.copy')}</button>
        <span class="good small" role="status">${this.copied}</span>
      </form>
      ${
        this.isRemoving
          ? removeQuestion({
              name: nameOfKeychain(this.keychain),
              others: whoHasOpen(this.people, { kind: 'colourway', id: colourway.id }),
              onYes: () => this.#remove(colourway),
              onNo: () => this.#askToRemove(false),
            })
          : html`<button class="remove" @click=${() => this.#askToRemove(true)}>${t('set.remove')}</button>`
      }
    `;
  }

  #renderOut(): TemplateResult {
    const key = keyOf(this.keychain);
    const query = key === '' ? '' : `?colourway=${encodeURIComponent(key)}`;
    return html`<ul class="out">
      <li><a class="button" href="/board/${this.boardId}${query}">${t('set.out.board')}</a><span class="quiet small">${t('set.out.boardHint')}</span></li>
      <li><a class="button" href="/board/${this.boardId}/table${query}">${t('set.out.make')}</a><span class="quiet small">${t('set.out.makeHint')}</span></li>
      <li><a class="button" href="/board/${this.boardId}/print${query}">${t('set.out.sheet')}</a><span class="quiet small">${t('set.out.sheetHint')}</span></li>
      <li><a class="button" href="/board/${this.boardId}/card${query}">${t('set.out.card')}</a><span class="quiet small">${t('set.out.cardHint')}</span></li>
      <li><button id="file" @click=${() => this.#saveFile()}>${t('set.out.file')}</button><span class="quiet small">${t('set.out.fileHint')}</span></li>
    </ul>`;
  }

  async #show(view: View): Promise<void> {
    this.view = view;
    if (this.loaded.has(view)) return;
    this.missing = null;
    const fetched = view === 'mounting' || view === 'cutting' ? await fetchPart(`panel-${view}`) : null;
    if (fetched === null || fetched.ok) this.loaded = new Set(this.loaded).add(view);
    else if (view === this.view) this.missing = fetched.error.kind;
  }

  #assign(colourway: Colourway, maker: ColourwayMaker | null): void {
    const { maker: _before, ...rest } = colourway;
    const next: Colourway = maker === null ? rest : { ...rest, maker };
    this.#run({ kind: 'put-colourway', colourway: next });
  }

  #copy(event: Event, colourway: Colourway): void {
    event.preventDefault();
    const from = this.renderRoot.querySelector<HTMLSelectElement>('#from')?.value ?? '';
    const other = this.keychains.find((one) => keyOf(one) === from);
    if (other === undefined) return;
    const colours = other.colourway?.colours ?? this.board.palette;
    if (this.#run({ kind: 'put-colourway', colourway: { ...colourway, colours } }))
      this.copied = t('set.copied', { name: nameOfKeychain(this.keychain), from: nameOfKeychain(other) });
  }

  /** The answer that changes nothing has the keyboard first. */
  async #askToRemove(isAsked: boolean): Promise<void> {
    this.isRemoving = isAsked;
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>(isAsked ? '#remove-no' : '.remove')?.focus();
  }

  #remove(colourway: Colourway): void {
    this.isRemoving = false;
    const name = nameOfKeychain(this.keychain);
    if (this.#run({ kind: 'remove-colourway', id: colourway.id })) this.dispatchEvent(new RemovedEvent(name));
  }

  #saveFile(): void {
    const { marks } = this.keychain;
    const title = [this.board.title, this.keychain.colourway === null ? '' : nameOfKeychain(this.keychain)]
      .filter((part) => part !== '')
      .join(' · ')
      .slice(0, 120);
    const text = `${JSON.stringify(formatBoard({ ...marks.board, title }), null, 1)}\n`;
    saveFile(fileName(title, 'json'), new Blob([text], { type: 'application/json' }));
  }

  #run(command: Command): boolean {
    this.design.giveCommands(LATER_COMMANDS);
    this.design.stopUndoCapture();
    const result = this.design.run(command);
    if (!result.ok) this.dispatchEvent(new RefusedEvent(sayError(result.error)));
    return result.ok;
  }
}
