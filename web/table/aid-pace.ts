/** Pace: how long a knot takes, pauses, minutes left, and when hands are due for rest. */
import { html, type TemplateResult } from 'lit';
import { minutesFor, minutesOf, paceOf, pausesIn, REST_AFTER_MS, sinceRestMs } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { formatNumber } from '../units/index.ts';
import type { Aided } from './aid-host.ts';

/** What can be said of the pace; null where too few knots were timed. Rule N61. */
interface PaceLines {
  readonly seconds: { readonly median: number; readonly low: number; readonly high: number };
  readonly knots: number;
  readonly pauses: number;
  /** Minutes for what is left to tie, and with what closes the keychain. */
  readonly stage: { readonly minutes: number; readonly low: number; readonly high: number };
  readonly whole: number;
}

export function paceLines({ keychain, begun, work }: Aided): PaceLines | null {
  const { marks } = keychain;
  const pace = paceOf(marks);
  if (pace === null) return null;
  const left = work.steps.length - work.at;
  const stage = minutesFor(pace, left);
  return {
    seconds: { median: pace.medianMs / 1000, low: pace.lowMs / 1000, high: pace.highMs / 1000 },
    knots: pace.knots,
    pauses: pausesIn(marks).filter(Boolean).length,
    stage,
    whole: stage.minutes + minutesOf(begun.piece, 0, 0).finishing,
  };
}

export function renderPace(aided: Aided): TemplateResult {
  const lines = paceLines(aided);
  const restMinutes = sinceRestMs(aided.keychain.marks) / 60_000;
  const isDue = restMinutes * 60_000 >= REST_AFTER_MS;
  const number = (value: number): string => formatNumber(value, value < 10 ? 1 : 0);
  return html`${
    lines === null
      ? html`<p class="said">${t('aid.pace.none')}</p>`
      : html`<p class="huge">${t('aid.pace.knot', { seconds: number(lines.seconds.median) })}</p>
        <p>${t('aid.pace.half', { low: number(lines.seconds.low), high: number(lines.seconds.high), count: lines.knots })}</p>
        <p>${t('aid.pace.pauses', { count: lines.pauses })}</p>
        <dl>
          <dt>${t('aid.pace.stage')}</dt><dd>${t('aid.pace.minutes', { minutes: formatNumber(Math.ceil(lines.stage.minutes), 0), low: formatNumber(Math.floor(lines.stage.low), 0), high: formatNumber(Math.ceil(lines.stage.high), 0) })}</dd>
          <dt>${t('aid.pace.whole')}</dt><dd>${t('aid.pace.about', { minutes: formatNumber(Math.ceil(lines.whole), 0) })}</dd>
        </dl>`
  }
  <p class=${isDue ? 'warn' : 'quiet'} role="status">${isDue ? t('table.rest') : t('aid.pace.since', { minutes: formatNumber(Math.floor(restMinutes), 0) })}</p>
  <p class="small quiet">${t('aid.pace.hurts')}</p>`;
}
