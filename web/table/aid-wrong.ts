/** Something is wrong: the wrong knot and what it is, tapped in; what to undo, what it comes to if it stays, and a way on that mends it. */
import { html, type ReactiveControllerHost, type TemplateResult } from 'lit';
import {
  type AsItStays,
  type Board,
  backToBoard,
  ifTiedSo,
  type KnotToken,
  type Mistake,
  stepKey,
  type WorkStep,
} from '../../engine/index.ts';
import { sayList, t } from '../text/index.ts';
import { formatCut, readUnit } from '../units/index.ts';
import { stepWords } from '../words/index.ts';
import { BackgroundJob, type MendAnswer, type MendJob } from '../worker/index.ts';
import { type Aided, type AidHost, colourOf, nameHanging } from './aid-host.ts';
import { bandDrawing, knotAt } from './band-drawing.ts';
import {
  mistakesFor,
  moreNeeded,
  rowsBeside,
  type Shown,
  showPiece,
  toUndo,
  withMistake,
} from './mistake.ts';
import { sayWhere } from './say-group.ts';
import type { TableWork } from './table-work.ts';
import { knotSeen, type Sight, sightOf } from './views.ts';

/** Rows of the band that are shown to choose from, and of pictures beside each other. */
const ROWS_SHOWN = 14;
const ROWS_BESIDE = 30;
/** Rows undone that are listed one by one. */
const MOST_STRETCHES = 40;

/** What a mistake comes to, worked out once. */
interface Outcome {
  readonly kinds: ReadonlyMap<string, KnotToken>;
  readonly comes: AsItStays;
  readonly meant: Shown;
  readonly stays: Shown;
}

export class AidWrong {
  readonly #host: AidHost;
  readonly #job: BackgroundJob<MendJob>;
  #picked: string | null = null;
  #mistake: Mistake | null = null;
  #outcome: Outcome | null = null;
  #mended: { readonly answer: MendAnswer; readonly shown: Shown } | null = null;

  /** @param element whose work in the background ends when it leaves the page */
  constructor(element: ReactiveControllerHost, host: AidHost) {
    this.#host = host;
    this.#job = new BackgroundJob<MendJob>(element);
  }

  render(aided: Aided): TemplateResult {
    const { steps, at } = aided.work;
    const step =
      steps.slice(0, at).find((one) => stepKey(one) === this.#picked) ??
      (at === 0 ? undefined : steps[at - 1]);
    if (step === undefined)
      return html`<p class="said">${t('aid.wrong.nothing')}</p>${this.#renderOwn(aided)}`;
    const [mistake, outcome] = [this.#mistake, this.#outcome];
    if (mistake === null || outcome === null) return this.#renderPick(aided, step);
    return this.#renderWays(aided, step, mistake, outcome);
  }

  #renderPick(aided: Aided, step: WorkStep): TemplateResult {
    const { work } = aided;
    const { board, steps, at } = work;
    const tied = new Map(steps.slice(0, at).map((one) => [`${one.row} ${one.k}`, one]));
    const { colours, start } = board.pattern;
    const last = Math.max(...Array.from(tied.values(), ({ row }) => row));
    const to = Math.min(last + 1, Math.max(ROWS_SHOWN, step.row + (ROWS_SHOWN >> 1)));
    const sight = sightOf(aided.keychain.view);
    const { isTurned } = sight;
    const scene = { strings: colours.length, start, from: Math.max(0, to - ROWS_SHOWN), to, isTurned };
    const pick = (one: WorkStep | undefined): void => {
      if (one === undefined) return;
      this.#picked = stepKey(one);
      this.#host.update();
    };
    const tap = (event: PointerEvent): void => {
      const box = (event.currentTarget as Element).getBoundingClientRect();
      const found = knotAt(scene, box, event.clientX - box.left, event.clientY - box.top);
      if (found !== null) pick(tied.get(`${found.row} ${found.k}`));
    };
    const beside =
      (rows: number, places: number): (() => void) =>
      () =>
        pick(isTurned ? nearestTied(tied, step, -rows, -places) : nearestTied(tied, step, rows, places));
    const { knots } = stepWords();
    return html`<p class="said" role="status">${t('aid.wrong.pick')}</p>
      <div class="picture" @click=${tap}>${bandDrawing({
        ...scene,
        label: t('aid.wrong.band'),
        hexAt: (row, k) => {
          const one = tied.get(`${row} ${k}`);
          return one === undefined ? null : colourOf(board, colours[one.knotting]!).hex;
        },
        picked: step,
      })}</div>
      <p class="line moves">
        <button aria-label=${t('aid.wrong.left')} @click=${beside(0, -1)}>←</button>
        <button aria-label=${t('aid.wrong.up')} @click=${beside(-1, 0)}>↑</button>
        <button aria-label=${t('aid.wrong.down')} @click=${beside(1, 0)}>↓</button>
        <button aria-label=${t('aid.wrong.right')} @click=${beside(0, 1)}>→</button>
      </p>
      <p role="status"><b>${sayKnotAt(step, board, sight)}</b>: ${knots[step.kind]}, ${colourOf(board, colours[step.knotting]!).name}</p>
      <h2>${t('aid.wrong.what')}</h2>
      <p class="line">${mistakesFor(step).map(
        (mistake) =>
          html`<button class="wide" @click=${() => this.#choose(aided, step, mistake)}>${sayMistake(mistake)}</button>`,
      )}</p>
      ${this.#renderOwn(aided)}`;
  }

  /** Rule N41. */
  #renderOwn({ keychain: { own, tied } }: Aided): TemplateResult | '' {
    const back = backToBoard(own, tied);
    if (back.kinds.size === own.kinds.size && own.endsAfter === null) return '';
    return html`<section class="way"><p>${t('aid.wrong.own')}</p>
      <button class="wide" @click=${() => this.#host.take({ own: back })}>${t('aid.wrong.backTake')}</button></section>`;
  }

  /** The way that mends it is looked for meanwhile. */
  #choose({ begun, keychain, work }: Aided, step: WorkStep, mistake: Mistake): void {
    const kinds = withMistake(keychain.own, step, mistake);
    this.#picked = stepKey(step);
    this.#mistake = mistake;
    this.#mended = null;
    this.#outcome = {
      kinds,
      comes: ifTiedSo(begun, kinds),
      meant: showPiece(begun, new Map()),
      stays: showPiece(begun, kinds),
    };
    const isOpen = work.steps.slice(work.at).some(({ part }) => part !== 'end');
    if (isOpen) this.#job.start({ kind: 'mend', board: begun, kinds, tied: keychain.tied }, true);
    else this.#job.cancel();
    this.#host.update();
  }

  #back(): void {
    this.#job.cancel();
    this.#mistake = null;
    this.#host.update();
  }

  #renderWays(aided: Aided, step: WorkStep, mistake: Mistake, outcome: Outcome): TemplateResult {
    const { begun, keychain, work } = aided;
    const { state } = this.#job;
    const answer = state.kind === 'found' ? state.answer : state.kind === 'looking' ? state.best : null;
    if (answer !== null && this.#mended?.answer !== answer)
      this.#mended = { answer, shown: showPiece(begun, answer.kinds) };
    const mended = this.#mended;
    const [from, to] = rowsBeside(
      step.row,
      outcome.meant,
      [outcome.stays, ...(mended === null ? [] : [mended.shown])],
      ROWS_BESIDE,
    );
    const picture = (label: string, shown: Shown): TemplateResult =>
      html`<figure><figcaption class="small">${label}</figcaption>${this.#picture(aided, shown, outcome.meant, from, to, label)}</figure>`;
    const takeWay = (kinds: ReadonlyMap<string, KnotToken>): void =>
      this.#host.take({ own: { ...keychain.own, kinds } });
    return html`<p class="line"><button @click=${() => this.#back()}>${t('aid.wrong.again')}</button>
        <b>${sayKnotAt(step, work.board, sightOf(keychain.view))}: ${sayMistake(mistake)}</b></p>
      <div class="beside">${picture(t('aid.wrong.meant'), outcome.meant)}${picture(t('aid.wrong.stays'), outcome.stays)}${
        mended === null ? '' : picture(t('aid.wrong.mended'), mended.shown)
      }</div>
      ${this.#renderUndo(work, step, sightOf(keychain.view))}
      <section class="way"><h2>${t('aid.wrong.stay')}</h2>
        <p>${sayComes(outcome.comes)}</p>${this.#renderMore(aided, outcome.comes)}
        <button class="wide" @click=${() => takeWay(outcome.kinds)}>${t('aid.wrong.stayTake')}</button></section>
      ${this.#renderMend(aided, takeWay)}`;
  }

  #picture(
    { begun, keychain }: Aided,
    shown: Shown,
    meant: Shown,
    from: number,
    to: number,
    label: string,
  ): TemplateResult {
    const { strings, start, colourAt } = shown;
    return bandDrawing({
      label,
      ...{ strings, start, from, to, isTurned: sightOf(keychain.view).isTurned },
      hexAt: (row, k) => {
        const id = colourAt(row, k);
        return id === null ? null : colourOf(begun, id).hex;
      },
      isMarked: (row, k) => colourAt(row, k) !== meant.colourAt(row, k),
    });
  }

  /** Rule N46. */
  #renderUndo(work: TableWork, step: WorkStep, sight: Sight): TemplateResult {
    const { count, stretches, tied } = toUndo(work, step, sight);
    return html`<section class="way"><h2>${t('aid.wrong.undo', { count })}</h2>
      <ol>${stretches
        .slice(0, MOST_STRETCHES)
        .map(
          ({ first, knots }) =>
            html`<li>${t('aid.wrong.undoRow', { where: sayWhere(first), count: knots.length, knots: sayList(knots.map(String)) })}</li>`,
        )}</ol>
      ${stretches.length > MOST_STRETCHES ? html`<p class="small quiet">${t('aid.wrong.undoMore', { count: stretches.length - MOST_STRETCHES })}</p>` : ''}
      <button class="wide" @click=${() => this.#host.take({ tied })}>${t('aid.wrong.undoTake')}</button></section>`;
  }

  /** Rule N48. */
  #renderMend(aided: Aided, take: (kinds: ReadonlyMap<string, KnotToken>) => void): TemplateResult {
    const { state } = this.#job;
    const mended = this.#mended?.answer ?? null;
    const isLooking = state.kind === 'looking';
    return html`<section class="way"><h2>${t('aid.wrong.mend')}</h2>
      ${
        state.kind === 'idle'
          ? html`<p>${t('aid.wrong.mendNone')}</p>`
          : state.kind === 'failed'
            ? html`<p class="warn" role="alert">${state.why}</p>`
            : mended === null
              ? html`<p role="status">${t('aid.wrong.mending')}</p>`
              : html`<p role="status">${sayComes(mended.comes)} ${sayProof(mended)}${isLooking && !mended.proven ? ` ${t('aid.wrong.looking', { percent: Math.floor(100 * (isLooking ? state.share : 1)) })}` : ''}</p>
                ${this.#renderMore(aided, mended.comes)}
                <button class="wide primary" @click=${() => take(mended.kinds)}>${t('aid.wrong.mendTake')}</button>`
      }</section>`;
  }

  #renderMore({ begun, keychain }: Aided, comes: AsItStays): TemplateResult | '' {
    const more = moreNeeded(begun, comes);
    if (more.length === 0) return '';
    const unit = readUnit();
    return html`<p class="small">${t('aid.wrong.more')}</p><ul class="small">${more.map(
      ({ string, moreMm, spareMm }) => {
        const values = {
          string: nameHanging(begun, string, string, sightOf(keychain.view)),
          more: formatCut(moreMm, unit),
        };
        return spareMm >= 0
          ? html`<li>${t('aid.wrong.moreSpare', { ...values, spare: formatCut(spareMm, unit) })}</li>`
          : html`<li class="warn">${t('aid.wrong.moreShort', { ...values, short: formatCut(-spareMm, unit) })}</li>`;
      },
    )}</ul>`;
  }
}

/** The nearest tied knot that lies that way. */
function nearestTied(
  tied: ReadonlyMap<string, WorkStep>,
  from: WorkStep,
  rows: number,
  places: number,
): WorkStep | undefined {
  const far = ({ row, place }: WorkStep): number => {
    const [down, right] = [row - from.row, place - from.place];
    const along = rows === 0 ? right * places : down * rows;
    if (along <= 0 || (rows === 0 && down !== 0)) return Number.POSITIVE_INFINITY;
    return along * 4 + Math.abs(rows === 0 ? down : right);
  };
  const best = [...tied.values()].reduce<WorkStep | undefined>(
    (near, one) => (near === undefined || far(one) < far(near) ? one : near),
    undefined,
  );
  return best === undefined || far(best) === Number.POSITIVE_INFINITY ? undefined : best;
}

function sayKnotAt(step: WorkStep, { pattern }: Board, sight: Sight): string {
  return t('aid.knotAt', { where: sayWhere(step), knot: knotSeen(step, pattern, sight) });
}

function sayMistake(mistake: Mistake): string {
  if (mistake === '-') return t('aid.wrong.none');
  if (mistake === 'exchanged' || mistake === 'half') return t(`aid.wrong.${mistake}`);
  return stepWords().knots[mistake];
}

/** How many knots show a wrong colour, and whether strings hang wrong further down. Rule N47. */
function sayComes({ wrong, hangsWrong, endsAsMeant }: AsItStays): string {
  const knots = wrong.length === 0 ? t('aid.wrong.noWrong') : t('aid.wrong.wrong', { count: wrong.length });
  const ends =
    hangsWrong.length > 0
      ? t('aid.wrong.hangWrong', { count: hangsWrong.length })
      : t(endsAsMeant ? 'aid.wrong.endRight' : 'aid.wrong.endColours');
  return `${knots} ${ends}`;
}

/** What is proven of the fewest. */
function sayProof({ wrong, lowerBound, proven, comes }: MendAnswer): string {
  if (proven) return t('aid.wrong.proven');
  // What is tied already shows what it shows.
  return t('aid.wrong.atLeast', { count: comes.wrong.length - wrong + lowerBound });
}
