/** The way through a lesson for an element: worked out of a board once, large boards in a worker, and drawn anew when it is there. */
import { html, type ReactiveController, type ReactiveControllerHost, type TemplateResult } from 'lit';
import { type Board, cutListOf, type CutList } from '../../engine/index.ts';
import { cordsOf, firstHalfIn } from '../table/index.ts';
import { t } from '../text/index.ts';
import { orRefusal, sayWorkOrderError } from '../words/index.ts';
import {
  BackgroundJob,
  PlanReader,
  planPending,
  runWorkOrder,
  showMountedFrom,
  stepAt,
  type WorkOrderJob,
} from '../worker/index.ts';
import { Course } from './course.ts';

/** Orders of more knots than this are made in a worker. */
const MOST_KNOTS_HERE = 3000;

export class CourseReader implements ReactiveController {
  readonly #plans: PlanReader;
  readonly #job: BackgroundJob<WorkOrderJob>;
  /** The board whose order is made, or is being made. */
  #ordered: Board | null = null;
  #known: { readonly board: Board; readonly isMirrored: boolean; readonly course: Course } | null = null;
  #list: CutList | null = null;

  constructor(host: ReactiveControllerHost) {
    this.#plans = new PlanReader(host);
    this.#job = new BackgroundJob<WorkOrderJob>(host, () => host.requestUpdate());
    host.addController(this);
  }

  hostConnected(): void {
    // A job ends with the element that asked for it.
    this.#ordered = null;
    // All mount by one plan, from whichever side somebody begins a band of her own.
    showMountedFrom(firstHalfIn('same'));
  }

  /** What is cut, of the board last asked for; null while it is not known. */
  get list(): CutList | null {
    return this.#list;
  }

  /** The way of a board; null while it is not known, or where there is none: {@link pending} says why. Rule R44. */
  read(board: Board, isMirrored: boolean): Course | null {
    const known = this.#known;
    if (known?.board === board && known.isMirrored === isMirrored) return known.course;
    if (this.#ordered !== board) this.#order(board);
    const plan = this.#plans.stateOf(board);
    const { state } = this.#job;
    if (plan.kind !== 'found' || state.kind !== 'found' || !state.answer.ok) return null;
    const list = orRefusal(() => cutListOf(board, plan.plan));
    if (!list.ok) return null;
    const table = state.answer.value;
    const steps = Array.from({ length: table.count }, (_, at) => stepAt(table, at));
    const course = new Course({ cords: cordsOf(list.value), steps, board, isMirrored });
    this.#known = { board, isMirrored, course };
    this.#list = list.value;
    return course;
  }

  /** Why there is no way yet, or none at all. */
  pending(board: Board): TemplateResult {
    const plan = this.#plans.stateOf(board);
    if (plan.kind !== 'found') return planPending(plan);
    const list = orRefusal(() => cutListOf(board, plan.plan));
    if (!list.ok) return html`<p class="warn" role="alert">${t('panels.range', { why: list.why })}</p>`;
    const { state } = this.#job;
    if (state.kind === 'failed')
      return html`<p class="warn" role="alert">${t('work.failed', { why: state.why })}</p>`;
    if (state.kind === 'found' && !state.answer.ok)
      return html`<p class="warn" role="alert">${t('work.failed', { why: sayWorkOrderError(state.answer.error) })}</p>`;
    const share = state.kind === 'looking' ? state.share : 0;
    return html`<p role="status">${t('table.tie.making', { percent: Math.floor(share * 100) })}</p>`;
  }

  /** The lesson's one order, whatever the hand. */
  #order(board: Board): void {
    this.#ordered = board;
    const firstHalf = firstHalfIn('same');
    const job: WorkOrderJob = {
      kind: 'work-order',
      board,
      method: 'rows',
      covers: 'piece',
      rowsFirst: 0,
      firstHalf,
    };
    const repeats = board.piece.repeats ?? (board.piece.lengthMm === undefined ? 1 : MOST_KNOTS_HERE);
    if (board.pattern.knots.length * repeats > MOST_KNOTS_HERE) this.#job.start(job, true);
    else this.#job.settle(runWorkOrder(job));
  }
}
