/** How sure a length is, in words and numbers; for the panels and for paper. */
import { html, type TemplateResult } from 'lit';
import {
  type ColourId,
  type CutList,
  type Doubt,
  doubtOf,
  fromMm,
  type Gauge,
  type GaugeField,
  gaugeDoubt,
  inchToMm,
  type LengthDoubt,
  mmToInch,
} from '../../engine/index.ts';
import { type TextKey, t } from '../text/index.ts';
import { formatCut, formatFine, formatNumber, type ShownUnit } from '../units/index.ts';

/**
 * Half a width of doubt, rounded up: to whole millimetres or eighths of an inch, from 10 cm to whole centimetres or inches. No finer
 * than it is known: JCGM 100:2008, 7.2.6, has two digits at most.
 */
function formatOff(mm: number, unit: ShownUnit): string {
  if (unit === 'in') return formatCut(mm >= 100 ? inchToMm(Math.ceil(mmToInch(mm))) : mm, unit);
  const step = mm >= 100 ? 10 : 1;
  return `${formatNumber(fromMm(Math.ceil(mm / step - 1e-6) * step, unit), 1)} ${unit}`;
}

/** For example "4,120 mm ± 60 mm"; without ± where nothing tells how sure it is. */
export function plusMinus(mm: number, doubt: Doubt | null, unit: ShownUnit): string {
  const length = formatCut(mm, unit);
  return doubt === null ? length : t('doubt.is', { length, off: formatOff(doubt.plusMinusMm, unit) });
}

/** The same for a value of the gauge, in hundredths of a millimetre. */
export function plusMinusFine(mm: number, doubt: Doubt | null, unit: ShownUnit): string {
  const length = formatFine(mm, unit);
  return doubt === null ? length : t('doubt.is', { length, off: formatFine(doubt.plusMinusMm, unit) });
}

/** How sure one value of a gauge is. */
export function doubtOfValue(gauge: Gauge, field: GaugeField): Doubt | null {
  const key = field.replace('Mm', '') as 'cord' | 'row' | 'knotting' | 'carrier';
  return doubtOf(gaugeDoubt(gauge), { cord: 0, row: 0, knotting: 0, carrier: 0, knots: 0, [key]: 1 });
}

/** What ± means here, or why there is none. */
export function meaningSentence({ doubt }: CutList): string {
  if (doubt.unknown.length === 0) return t('doubt.means');
  return t('doubt.unknown', { fields: namesOf(doubt.unknown.map((path) => path.slice(6))) });
}

/** What ± rests on where not all was measured, and measured more than once. */
export function basisSentences({ doubt, gauge }: CutList): readonly string[] {
  if (doubt.unknown.length > 0) return [];
  const estimated = Object.values(gauge).filter(({ estimate }) => estimate).length;
  const sentences: string[] = [];
  if (estimated > 0)
    sentences.push(t(estimated === Object.keys(gauge).length ? 'doubt.prior' : 'doubt.priorPart'));
  if (doubt.assumed.length > 0) sentences.push(t('doubt.assumed', { what: namesOf(doubt.assumed) }));
  return sentences;
}

function namesOf(keys: readonly string[]): string {
  return keys.map((key) => t(`doubt.of.${key}` as TextKey)).join(', ');
}

/**
 * How likely a cord comes out short as it is cut, and of which colour; nothing where the gauge does not tell.
 * @param nameOf what a colour is called
 */
export function chanceSentence(doubt: LengthDoubt, nameOf: (colour: ColourId) => string): string | null {
  const { chanceOfShort: chance, likeliestShort: likeliest } = doubt;
  if (chance === null) return null;
  if (likeliest === null || chance < 0.001) return t('doubt.shortRare');
  const colour = nameOf(likeliest);
  if (chance > OFTEN_SHORT) return t('doubt.shortOften', { count: formatNumber(chance * 10, 0), colour });
  return t('doubt.short', { count: formatNumber(Number((1 / chance).toPrecision(2)), 0), colour });
}

/** Likely enough that something should be done about it. */
export const OFTEN_SHORT = 0.15;

/** All that is to be said about how sure the lengths are, for paper. */
export function doubtNotes(list: CutList, nameOf: (colour: ColourId) => string): TemplateResult {
  const chance = chanceSentence(list.doubt, nameOf);
  const sentences = [meaningSentence(list), ...basisSentences(list), ...(chance === null ? [] : [chance])];
  return html`${sentences.map((sentence) => html`<p class="quiet">${sentence}</p>`)}`;
}
