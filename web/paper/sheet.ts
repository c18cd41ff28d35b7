/** The working sheet: all that is needed to make the piece away from the screen. */
import { html, type TemplateResult } from 'lit';
import {
  type Board,
  type CutList,
  cutListOf,
  isHung,
  needOf,
  pictureSvg,
  pieceRows,
  pieceSize,
  rowPerWidth,
} from '../../engine/index.ts';
import { chosenTextures } from '../board/index.ts';
import { stepLines } from '../files/index.ts';
import { mountDiagram } from '../panels/index.ts';
import { t } from '../text/index.ts';
import { formatCut, formatNumber, readUnit } from '../units/index.ts';
import {
  doubtNotes,
  orRefusal,
  placeRuns,
  plusMinus,
  sayBeginning,
  sayPlaces,
  sayTitle,
} from '../words/index.ts';
import { type PlanState, planPending } from '../worker/index.ts';
import { chartOf, chartPieces } from './chart.ts';
import { materialOf } from './material.ts';
import { trueSize } from './true-size.ts';

export const SHEET_PARTS = [
  'picture',
  'notes',
  'mounting',
  'cutting',
  'trueSize',
  'chart',
  'steps',
  'cautions',
] as const;
export type SheetPart = (typeof SHEET_PARTS)[number];

/** More rows than this make the picture too small to see a knot. */
const MOST_PICTURE_ROWS = 200;
/** More steps than this are a book; the text file has them all. */
const MOST_STEPS = 1200;

/** The picture of the piece as an image, so that it scales as one. */
export function pictureOfPiece(board: Board, mostRows: number): { image: TemplateResult; shown: number } {
  const rows = pieceRows(board, mostRows);
  const label = t('io.pictureTitle', { title: sayTitle(board) });
  const textures = chosenTextures(board.palette);
  const rowPx = 16 * rowPerWidth(board.gauge);
  const source = pictureSvg(rows, board.palette, { title: label, rowPx, ...(textures && { textures }) });
  return {
    image: html`<img alt=${label} src="data:image/svg+xml,${encodeURIComponent(source)}" />`,
    shown: rows.rows,
  };
}

/** Colours with their names. */
export function colourList({ palette, pattern }: Board): TemplateResult {
  const used = new Set(pattern.colours);
  return html`<ul class="colours">
    ${palette
      .filter(({ id }) => used.has(id))
      .map(
        ({ name, hex }) =>
          html`<li><span class="swatch" style="background: ${hex}"></span>${name || hex}</li>`,
      )}
  </ul>`;
}

function front(board: Board): TemplateResult {
  const { pattern } = board;
  const knots = pattern.knots.reduce((sum, knot) => sum + (knot === 0 ? 0 : 1), 0);
  const size = { strings: pattern.colours.length, rows: pattern.rows, knots: formatNumber(knots, 0) };
  const picture = orRefusal(() => ({
    ...pictureOfPiece(board, MOST_PICTURE_ROWS),
    rows: pieceSize(board).rows,
  }));
  if (!picture.ok) return html`<p>${t('panels.range', { why: picture.why })}</p>`;
  const { image, shown, rows } = picture.value;
  return html`<section class="front">
    ${image}
    <div>
      <p>${t('sheet.size', size)}<br />${t('sheet.pieceRows', { rows })}</p>
      ${shown < rows ? html`<p class="quiet">${t('sheet.shortened', { shown, rows })}</p>` : ''}
      ${colourList(board)}
    </div>
  </section>`;
}

/** What the makers wrote about the piece, line by line; nothing when they wrote nothing. */
function notes({ piece }: Board): TemplateResult | '' {
  const text = piece.notes?.trim() ?? '';
  if (text === '') return '';
  return html`<section>
    <h2>${t('sheet.part.notes')}</h2>
    <p class="notes" dir="auto">${text}</p>
  </section>`;
}

/** How a band without a ring begins, and in which order its strings lie. */
function beginning(board: Board): TemplateResult {
  const looks = new Map(board.palette.map((colour) => [colour.id, colour]));
  const said = orRefusal(() => sayBeginning(board, readUnit()));
  return html`<section>
    <h2>${t('panels.beginning')}</h2>
    <p>${said.ok ? said.value : t('panels.range', { why: said.why })}</p>
    <ul class="colours">
      ${placeRuns(board.pattern.colours).map((run) => {
        const { hex = 'none', name = '' } = looks.get(run.colour) ?? {};
        return html`<li><span class="swatch" style="background: ${hex}"></span>${sayPlaces(run, name || hex)}</li>`;
      })}
    </ul>
    <p class="quiet">${t('begin.check')}</p>
  </section>`;
}

function mounting(board: Board, state: PlanState): TemplateResult {
  const { pattern, palette, piece } = board;
  if (!isHung(piece)) return beginning(board);
  if (state.kind !== 'found')
    return html`<section><h2>${t('sheet.part.mounting')}</h2>${planPending(state)}</section>`;
  const { plan } = state;
  const hexOf = new Map(palette.map(({ id, hex }) => [id, hex]));
  return html`<section>
    <h2>${t('sheet.part.mounting')}</h2>
    <p>${plan.neat ? t('mount.neat') : t('mount.notNeat', { count: plan.crossings.length })}</p>
    ${mountDiagram(plan, {
      label: t('mount.diagram'),
      hexes: pattern.colours.map((id) => hexOf.get(id) ?? 'currentColor'),
    })}
    <p class="quiet">${t('mount.check')}</p>
  </section>`;
}

function cutting(board: Board, state: PlanState): TemplateResult {
  if (state.kind !== 'found')
    return html`<section><h2>${t('sheet.part.cutting')}</h2>${planPending(state)}</section>`;
  const unit = readUnit();
  const result = orRefusal(() => cutListOf(board, state.plan));
  if (!result.ok) return html`<p>${t('panels.range', { why: result.why })}</p>`;
  const { begin, folds, singles, estimates } = result.value;
  const hasFolds = begin === 'ring' || begin === 'loop';
  const columns = [
    'turn',
    'colour',
    'places',
    'cut',
    ...(hasFolds ? (['fold'] as const) : []),
    'needs',
  ] as const;
  const colourOf = (id: string): TemplateResult => {
    const colour = board.palette.find((one) => one.id === id);
    return html`<span class="swatch" style="background: ${colour?.hex ?? 'none'}"></span>${colour?.name || id}`;
  };
  return html`<section>
    <h2>${t('sheet.part.cutting')}</h2>
    ${estimates.some((path) => path.startsWith('gauge.')) ? html`<p class="lead">${t('sheet.estimated')}</p>` : ''}
    <table>
      <thead><tr>${columns.map((key) => html`<th scope="col">${t(`sheet.${key}`)}</th>`)}</tr></thead>
      <tbody>
        ${[...folds]
          .sort((a, b) => a.turn - b.turn)
          .map(
            (fold, i) =>
              html`<tr><td>${i + 1}</td><td>${colourOf(fold.colour)}</td><td>${fold.left + 1}, ${fold.right + 1}</td><td>${formatCut(fold.cutMm, unit)}</td><td>${formatCut(fold.foldAtMm, unit)}</td><td>${plusMinus(needOf(fold), fold.doubt, unit)}</td></tr>`,
          )}
        ${singles.map(
          (single, i) =>
            html`<tr><td>${folds.length + 1 + i}</td><td>${colourOf(single.colour)}</td><td>${single.place + 1}</td><td>${formatCut(single.cutMm, unit)}</td>${hasFolds ? html`<td>${t('sheet.single')}</td>` : ''}<td>${plusMinus(single.needMm, single.doubt, unit)}</td></tr>`,
        )}
      </tbody>
    </table>
    ${totals(result.value, colourOf)}
    ${materialOf(board, state.plan)}
    ${doubtNotes(result.value, (id) => board.palette.find((one) => one.id === id)?.name || id)}
    <p class="quiet">${t('cut.caution')}</p>
  </section>`;
}

/** What each colour takes and how long the band gets, with how sure that is. */
function totals(list: CutList, nameOf: (id: string) => TemplateResult): TemplateResult {
  const unit = readUnit();
  return html`<h3>${t('cut.totals')}</h3>
    <ul class="totals">
      ${list.colours.map(
        ({ colour, pieces, totalMm, needMm, doubt }) => html`<li>
          ${nameOf(colour)}: ${t('cut.total', { pieces, length: formatCut(totalMm, unit) })} (${t('doubt.needs', { needs: plusMinus(needMm, doubt, unit) })})
        </li>`,
      )}
      <li>${t('cut.bandLength')}: ${plusMinus(list.size.bandMm, list.doubt.band, unit)}</li>
    </ul>`;
}

function chart(board: Board): TemplateResult {
  const { pattern } = board;
  const draw = chartOf(board);
  return html`<section>
    <h2>${t('sheet.part.chart')}</h2>
    <p class="lead">${t('sheet.chartHint')}</p>
    <div class="charts">
      ${chartPieces(pattern.colours.length, pattern.rows).map((piece) => {
        const label = t('sheet.chartRows', { from: piece.from + 1, to: piece.to });
        return html`<figure><figcaption>${label}</figcaption>${draw(piece, label)}</figure>`;
      })}
    </div>
  </section>`;
}

function steps(board: Board): TemplateResult {
  const lines = stepLines(board);
  return html`<section>
    <h2>${t('sheet.part.steps')}</h2>
    <p>
      ${t('sheet.steps', { count: lines.length })}
      ${lines.length > MOST_STEPS ? t('sheet.stepsShortened', { shown: MOST_STEPS, count: lines.length }) : ''}
    </p>
    <ol class="steps">${lines.slice(0, MOST_STEPS).map((line) => html`<li>${line}</li>`)}</ol>
  </section>`;
}

function cautions(): TemplateResult {
  return html`<section>
    <h2>${t('caution.heading')}</h2>
    <ul>
      ${(['children', 'neck', 'nickel', 'hands', 'local'] as const).map((key) => html`<li>${t(`caution.${key}`)}</li>`)}
    </ul>
  </section>`;
}

const DRAW: Readonly<Record<SheetPart, (board: Board, state: PlanState) => TemplateResult | ''>> = {
  picture: front,
  notes,
  mounting,
  cutting,
  trueSize,
  chart,
  steps,
  cautions,
};

/**
 * Needs the texts of the group `paper`.
 * @param state how the board is mounted
 */
export function sheetOf(board: Board, parts: ReadonlySet<SheetPart>, state: PlanState): TemplateResult {
  return html`<article class="sheet">
    <h1>${sayTitle(board)}</h1>
    ${SHEET_PARTS.filter((part) => parts.has(part)).map((part) => DRAW[part](board, state))}
  </article>`;
}
