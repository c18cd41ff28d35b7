/**
 * The versions of the board: kept by name, looked at, compared, played back, brought back.
 *
 * They are on the server; the list is fetched when the panel opens, after what one does, and now and then, since others keep
 * versions too. Bringing one back is an edit like any other: what stands there before is kept first.
 *
 * @fires lb-refused When the board does not take what was brought back.
 */
import { html, LitElement, type TemplateResult } from 'lit';
import { query, state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { becomeCommand, bringBack, readKeyed } from '../../engine/document/index.ts';
import { RefusedEvent, type ShownBoard, shownBoard } from '../board/index.ts';
import { Consumer } from '../context/index.ts';
import { usePart } from '../parts/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import {
  ApiError,
  type BoardSession,
  deleteVersion,
  fetchVersions,
  keepPresent,
  nameVersion,
  readPerson,
  renameVersion,
  type Version,
  type VersionList,
  whoHasOpen,
} from '../sync/index.ts';
import { type PageHandles, pageHandles } from '../talk/index.ts';
import { sayList, spoken, t } from '../text/index.ts';
import { sayError } from '../words/index.ts';
import type { WrittenField } from '../writing/index.ts';
import type { BringBackEvent, LbVersionView, LookedAtEvent, Shown } from './lb-version-view.ts';
import { VersionName } from './version-name.ts';
import { VersionShelf } from './version-shelf.ts';
import { dayOf, momentOf, timeOf, titleOf } from './version-time.ts';
import { versionsStyles } from './versions.styles.ts';
import { expectSaved, whyNot } from './why-not.ts';

export { LbVersionPicture } from './lb-version-picture.ts';
export { LbVersionView } from './lb-version-view.ts';

const REFRESH_MS = 20_000;
const MOST_NAME = 60;

@spoken
export class LbVersionsPanel extends LitElement {
  static override styles = [controls, panelStyles, versionsStyles];

  @state() private list: VersionList | null = null;
  @state() private problem = '';
  @state() private news = '';
  /** Ids chosen to be compared, in the order of choosing. */
  @state() private picked: readonly string[] = [];
  /** The version that is being renamed, or is about to be deleted. */
  @state() private asking: { readonly id: string; readonly what: 'name' | 'delete' } | null = null;
  @state() private isBusy = false;
  @state() private showsVisits = false;
  @query('lb-version-view') private view!: LbVersionView;
  readonly #handles = new Consumer(this, pageHandles, (now, before) => this.#onHandles(now, before));
  readonly #shown = new Consumer(this, shownBoard);
  #shelf: VersionShelf | null = null;
  /** The name that is being given; null = none. */
  #naming: VersionName | null = null;
  #timer: ReturnType<typeof setInterval> | undefined;
  #seen: IntersectionObserver | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#timer = setInterval(() => {
      if (document.visibilityState === 'visible') void this.#refresh();
    }, REFRESH_MS);
    // Pictures are fetched when they come into sight: there may be hundreds.
    this.#seen = new IntersectionObserver((entries) => {
      for (const { isIntersecting, target } of entries)
        if (isIntersecting) void this.#fetchPicture((target as HTMLElement).dataset.version!);
    });
  }

  override disconnectedCallback(): void {
    clearInterval(this.#timer);
    this.#seen?.disconnect();
    super.disconnectedCallback();
  }

  get #session(): BoardSession {
    const { value } = this.#handles;
    if (value === null) throw new RangeError('versions stand beside no board');
    return value.session;
  }

  get #now(): ShownBoard {
    const { value } = this.#shown;
    if (value === null) throw new RangeError('versions stand where no board is shown');
    return value;
  }

  get #canEdit(): boolean {
    return this.#now.canEdit && this.#session.keepsEdits;
  }

  #onHandles(now: PageHandles | null, before: PageHandles | null): void {
    if (now === null || now.session === before?.session) return;
    this.#shelf = new VersionShelf(now.session.boardId);
    this.list = null;
    void this.#refresh();
  }

  protected override updated(): void {
    for (const item of this.renderRoot.querySelectorAll('[data-version]')) this.#seen?.observe(item);
  }

  protected override render(): TemplateResult {
    const { list } = this;
    return html`
      <h2>${t('panels.versions')}</h2>
      <p class="quiet">${t('versions.purpose')}</p>
      ${this.#canEdit ? this.#renderForm() : ''}
      <p class="warn" role="alert" ?hidden=${this.problem === ''}>${this.problem}</p>
      <p class="good" role="status" ?hidden=${this.news === ''}>${this.news}</p>
      ${
        list === null
          ? this.problem === ''
            ? html`<p class="quiet" role="status">${t('versions.loading')}</p>`
            : html`<button @click=${() => this.#refresh()}>${t('app.again')}</button>`
          : this.#renderList(list)
      }
      ${list?.canDelete === true ? this.#renderVisits() : ''}
      <lb-version-view
        .shelf=${this.#shelf}
        .design=${this.#session.design}
        .board=${this.#now.board}
        ?canEdit=${this.#canEdit}
        @lb-bring-back=${this.#onBringBack}
        @lb-looked-at=${this.#onLookedAt}
      ></lb-version-view>
    `;
  }

  #renderForm(): TemplateResult {
    return html`<form class="keep" @submit=${this.#onKeep}>
      <div class="field">
        <label for="name">${t('versions.name')}</label>
        <input id="name" name="name" maxlength=${MOST_NAME} required autocomplete="off" />
      </div>
      <button class="primary" type="submit" ?disabled=${this.isBusy}>${t('versions.keep')}</button>
    </form>`;
  }

  #renderList(list: VersionList): TemplateResult {
    if (list.versions.length === 0) return html`<p>${t('versions.none')}</p>`;
    const days = new Map<string, Version[]>();
    for (const version of list.versions) {
      const day = dayOf(version.at);
      days.set(day, [...(days.get(day) ?? []), version]);
    }
    return html`<div class="actions">
        <button @click=${() => this.view.play([...[...list.versions].reverse(), 'now'])}>${t('versions.play.heading')}</button>
      </div>
      <div class="days">
        ${[...days].map(
          ([day, versions]) => html`<section aria-label=${day}>
            <h3>${day}</h3>
            <ul class="versions">
              ${repeat(
                versions,
                ({ id }) => id,
                (version) => this.#renderVersion(version, list),
              )}
            </ul>
          </section>`,
        )}
      </div>
      ${this.#renderPicked(list)}
      <p class="quiet small">${t('versions.rule', { most: list.mostNamed })}</p>`;
  }

  /** For owners; fetched when it is opened. */
  #renderVisits(): TemplateResult {
    return html`<details class="visits" @toggle=${this.#onVisits}>
      <summary>${t('visits.heading')}</summary>
      ${
        this.showsVisits
          ? html`<lb-visits .session=${this.#session} .board=${this.#now.board} ?canEdit=${this.#canEdit} @lb-kept=${() => this.#refresh()}></lb-visits>`
          : ''
      }
    </details>`;
  }

  readonly #onVisits = async (event: Event): Promise<void> => {
    const { open } = event.target as HTMLDetailsElement;
    if (!open) this.showsVisits = false;
    else
      await usePart('visits', () => {
        this.showsVisits = true;
      });
  };

  #renderVersion(version: Version, list: VersionList): TemplateResult {
    const { id, kind, at, by } = version;
    const name = titleOf(version);
    const when = { name, when: momentOf(at) };
    const isAsked = this.asking?.id === id;
    return html`<li class="version" data-version=${id}>
      <button class="thumb" aria-label=${t('versions.lookAt', when)} @click=${() => this.#look(version)}>
        <lb-version-picture .board=${this.#shelf?.peek(id) ?? null}></lb-version-picture>
      </button>
      <div class="about">
        <b>${name}</b>
        <span class="quiet small"
          >${[timeOf(at), by === null || by.name === '' ? '' : t('versions.by', { name: by.name }), t('versions.size', { strings: version.strings, rows: version.rows })].filter(Boolean).join(' · ')}</span
        >
      </div>
      <div class="actions">
        ${
          this.#canEdit
            ? html`<button aria-label=${t('versions.bringBackOf', when)} ?disabled=${this.isBusy} @click=${() => this.#bringBack(version)}>
                ${t('versions.bringBack')}
              </button>
              <button aria-label=${t(kind === 'named' ? 'versions.renameOf' : 'versions.nameOf', when)} aria-expanded=${isAsked && this.asking?.what === 'name'} @click=${() => this.#ask(id, 'name')}>
                ${t(kind === 'named' ? 'versions.rename' : 'versions.nameIt')}
              </button>`
            : ''
        }
        ${
          list.canDelete
            ? html`<button aria-label=${t('versions.deleteOf', when)} aria-expanded=${isAsked && this.asking?.what === 'delete'} @click=${() => this.#ask(id, 'delete')}>${t('versions.delete')}</button>`
            : ''
        }
        <label class="pick"
          ><input
            type="checkbox"
            aria-label=${t('versions.pick', when)}
            .checked=${this.picked.includes(id)}
            @change=${() => this.#pick(id)}
          />${t('versions.compare')}</label
        >
      </div>
      ${isAsked ? this.#renderAsked(version) : ''}
    </li>`;
  }

  #renderAsked(version: Version): TemplateResult {
    if (this.asking?.what === 'delete') {
      const open = whoHasOpen(this.#session.people.value, { kind: 'version', id: version.id });
      return html`<div class="renaming" role="group" aria-label=${t('versions.deleteSure')}>
        ${open.length === 0 ? '' : html`<p class="warn">${t('versions.isOpen', { count: open.length, names: sayList(open) })}</p>`}
        <p>${t('versions.deleteSure')}</p>
        <div class="actions">
          <button class="primary" @click=${() => this.#do(() => deleteVersion(this.#session.boardId, version.id), t('versions.deleted'))}>${t('versions.deleteYes')}</button>
          <button @click=${() => this.#ask(null)}>${t('versions.deleteNo')}</button>
        </div>
      </div>`;
    }
    return html`<form class="keep renaming" @submit=${(event: SubmitEvent) => {
      event.preventDefault();
      void this.#rename(version);
    }}>
      <div class="field">
        <lb-text-field id="rename" labelled .source=${this.#naming} .label=${t('versions.name')} @lb-enter=${() => this.#rename(version)}></lb-text-field>
      </div>
      <button class="primary" type="submit">${t('versions.save')}</button>
    </form>`;
  }

  #renderPicked(list: VersionList): TemplateResult | '' {
    const picked = list.versions.filter(({ id }) => this.picked.includes(id));
    const [one] = picked;
    if (one === undefined) return '';
    const isPair = picked.length === 2;
    return html`<div class="comparing">
      <span role="status">${t('versions.picked', { count: picked.length })}</span>
      ${
        isPair
          ? html`<button class="primary" @click=${() => this.#compare(picked[1]!, one)}>${t('versions.compareTwo')}</button>`
          : html`<button class="primary" @click=${() => this.#compare(one, 'now')}>${t('versions.compareNow')}</button>`
      }
      <button @click=${() => this.#pick(null)}>${t('versions.unpick')}</button>
    </div>`;
  }

  async #compare(before: Version, after: Shown): Promise<void> {
    this.problem = '';
    await usePart('compare', () => this.view.pair(before, after));
  }

  /** One more to compare; of three the one chosen first is let go. Null lets all go. */
  #pick(id: string | null): void {
    if (id === null) this.picked = [];
    else if (this.picked.includes(id)) this.picked = this.picked.filter((one) => one !== id);
    else this.picked = [...this.picked.slice(-1), id];
  }

  #look(version: Version): void {
    const steps = [...(this.list?.versions ?? [])].reverse();
    void this.view.look([...steps, 'now'], steps.indexOf(version));
  }

  #ask(id: string, what: 'name' | 'delete'): void;
  #ask(id: null): void;
  #ask(id: string | null, what: 'name' | 'delete' = 'name'): void {
    const isOpen = this.asking?.id === id && this.asking.what === what;
    this.asking = id === null || isOpen ? null : { id, what };
    const version = this.list?.versions.find((one) => one.id === id);
    this.#naming =
      this.asking?.what === 'name' && version !== undefined
        ? new VersionName(version.id, version.name, MOST_NAME)
        : null;
    if (this.#naming !== null)
      void this.updateComplete.then(() =>
        this.renderRoot.querySelector<WrittenField>('lb-text-field')?.focus(),
      );
  }

  async #fetchPicture(id: string): Promise<void> {
    if (!this.#shelf || this.#shelf.peek(id) !== null) return;
    try {
      await this.#shelf.design(id);
      this.requestUpdate();
    } catch (error) {
      // The place of the picture stays empty; whoever looks at the version hears why.
      if (!(error instanceof ApiError)) throw error;
    }
  }

  async #refresh(): Promise<void> {
    const session = this.#session;
    try {
      const list = await fetchVersions(session.boardId);
      if (session !== this.#session) return;
      this.list = list;
      this.#naming?.tell(list.versions.find(({ id }) => id === this.#naming?.id)?.name ?? null);
      if (!this.isBusy && this.problem === t('versions.offline')) this.problem = '';
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      if (session === this.#session) this.problem = whyNot(error);
    }
  }

  /** Does something with the versions, then fetches them anew; says what came of it. */
  async #do(change: () => Promise<unknown>, done: string): Promise<boolean> {
    this.problem = '';
    this.news = '';
    this.isBusy = true;
    try {
      await change();
      this.asking = null;
      // Said once the list shows it.
      await this.#refresh();
      this.news = done;
      return true;
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.news = '';
      this.problem = whyNot(error);
      return false;
    } finally {
      this.isBusy = false;
    }
  }

  readonly #onKeep = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const name = String(new FormData(form).get('name')).trim();
    if (name === '') return;
    const isKept = await this.#do(
      async () => {
        expectSaved(this.#session);
        await nameVersion(this.#session.boardId, name, readPerson().name);
      },
      t('versions.kept', { name }),
    );
    if (isKept) form.reset();
  };

  async #rename(version: Version): Promise<void> {
    const naming = this.#naming;
    if (naming === null) return;
    // As it is called by now: somebody else may be giving it a name too.
    await this.#refresh();
    const isWhole = this.renderRoot.querySelector<WrittenField>('lb-text-field')?.save() === true;
    const name = naming.wanted;
    // Of a version that is gone the server says so.
    if (naming.text !== null && (!isWhole || name === '')) return;
    await this.#do(
      () => renameVersion(this.#session.boardId, version.id, name, readPerson().name),
      t('versions.kept', { name }),
    );
  }

  readonly #onLookedAt = ({ version }: LookedAtEvent): void => {
    this.#session.setPresence({ open: version === null ? null : { kind: 'version', id: version.id } });
  };

  readonly #onBringBack = async (event: BringBackEvent): Promise<void> => {
    this.view.close();
    await this.#bringBack(event.version);
  };

  async #bringBack(version: Version): Promise<void> {
    const session = this.#session;
    let stayed = 0;
    const isDone = await this.#do(
      async () => {
        this.news = t('versions.bringing');
        const then = await this.#shelf!.design(version.id);
        expectSaved(this.#session);
        const kept = readKeyed(session.design.doc);
        await keepPresent(session.boardId);
        // A large board takes a moment; that it is being done is shown first.
        await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));
        // The board may have been renewed meanwhile, under the same ids.
        const now = readKeyed(session.design.doc);
        if (kept === null || now === null)
          throw new ApiError('empty-document', 'the document holds no board');
        // Rows and strings come back under their ids, so that what is pinned to them finds them; what was edited since `kept` is in no
        // version, and stays.
        const back = bringBack(kept, now, then);
        const result = back.ok ? session.design.run(becomeCommand(back.value)) : back;
        if (!result.ok) {
          this.dispatchEvent(new RefusedEvent(sayError(result.error)));
          const { kind, message, ...said } = result.error;
          throw new ApiError(kind, message, undefined, said);
        }
        stayed = back.ok ? back.stayed : 0;
      },
      t('versions.broughtBack', { name: titleOf(version), when: momentOf(version.at) }),
    );
    if (isDone && stayed > 0) this.news += ` ${t('versions.stayed', { count: stayed })}`;
  }
}
