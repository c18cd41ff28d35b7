/** The finished piece as large as it will be, to lay the work on: with a line to check the printer by. */
import { html, type TemplateResult } from 'lit';
import { type Board, bandProportions, pictureSvg, pieceRows, pieceSize } from '../../engine/index.ts';
import { chosenTextures } from '../board/index.ts';
import { t } from '../text/index.ts';
import { formatNear, readUnit } from '../units/index.ts';
import { orRefusal } from '../words/index.ts';

/** What A4 and Letter share of printed width, and what a piece of the band may be high beside its heading, in mm. */
const FIT_WIDTH_MM = 180;
const FIT_HEIGHT_MM = 220;
/** Of more rows than this only as many are printed: some four pages. */
const MOST_ROWS = 560;
const CHECK_LINE_MM = 50;

/** Heights at which the band is cut so that each piece fits a page, in mm from its top: ascending, the last is its length. */
function cutsAt(lengthMm: number): readonly number[] {
  const pieces = Math.max(1, Math.ceil(lengthMm / FIT_HEIGHT_MM));
  return Array.from({ length: pieces }, (_, i) => ((i + 1) * lengthMm) / pieces);
}

/** Needs the texts of the group `paper`. Rule B202. */
export function trueSize(board: Board): TemplateResult {
  const drawn = orRefusal(() => ({
    rows: pieceRows(board, MOST_ROWS),
    size: bandProportions(board),
    all: pieceSize(board).rows,
  }));
  const heading = html`<h2>${t('sheet.part.trueSize')}</h2>`;
  if (!drawn.ok) return html`<section>${heading}<p>${t('panels.range', { why: drawn.why })}</p></section>`;
  const { rows, size, all } = drawn.value;
  const unit = readUnit();
  const width = formatNear(size.widthMm, unit);
  if (size.widthMm > FIT_WIDTH_MM)
    return html`<section>${heading}<p>${t('sheet.tooWide', { width })}</p></section>`;
  const placeMm = size.widthMm / size.strings;
  const rowMm = placeMm * size.rowPerCord;
  const textures = chosenTextures(board.palette);
  const label = t('sheet.part.trueSize');
  const source = pictureSvg(rows, board.palette, {
    title: label,
    rowPx: 16 * size.rowPerCord,
    ...(textures && { textures }),
  });
  const address = `data:image/svg+xml,${encodeURIComponent(source)}`;
  const lengthMm = (rows.rows + 1) * rowMm;
  const cuts = cutsAt(lengthMm);
  return html`<section class=${cuts.length === 1 ? 'whole' : ''}>
    ${heading}
    <p class="lead">${t(size.isMeasured ? 'sheet.trueSize' : 'sheet.trueSizeEstimated', { width, length: formatNear(size.bandMm, unit) })}
      ${rows.rows < all ? t('sheet.shortened', { shown: rows.rows, rows: all }) : ''}</p>
    ${checkLine()}
    <div class="charts">
      ${cuts.map((to, i) => {
        const from = i === 0 ? 0 : (cuts[i - 1] as number);
        return html`<figure>
          ${cuts.length === 1 ? '' : html`<figcaption>${t('sheet.part.trueSize')} ${i + 1}/${cuts.length}</figcaption>`}
          <div class="true" style="width: ${size.widthMm}mm; height: ${to - from}mm"><img alt=${i === 0 ? label : ''} src=${address} style="width: ${size.widthMm}mm; height: ${lengthMm}mm; margin-block-start: ${-from}mm" /></div>
        </figure>`;
      })}
    </div>
  </section>`;
}

function checkLine(): TemplateResult {
  return html`<p class="check"><svg style="width: ${CHECK_LINE_MM}mm; height: 4mm" viewBox="0 0 ${CHECK_LINE_MM} 4" aria-hidden="true">
      <path d="M0.1 0.5v3M0 2h${CHECK_LINE_MM}M${CHECK_LINE_MM - 0.1} 0.5v3" stroke="#000" stroke-width="0.2" fill="none" />
    </svg> ${t('sheet.checkLine', { length: CHECK_LINE_MM })}</p>`;
}
