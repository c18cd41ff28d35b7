/** A wish as lozenges of the colours that should show, open knots left out. */
import { svg, type SVGTemplateResult } from 'lit';
import { layLettering, rowParity, rowPerWidth, type Wish } from '../../engine/index.ts';

/** One path for each colour; board space, a row as high as an unmeasured knot is. O(knots). */
export function wishPicture({ strings, start, palette, rows }: Wish): SVGTemplateResult {
  const high = rowPerWidth({});
  const paths = palette.map(() => '');
  rows.forEach((row, r) => {
    const parity = rowParity(start, r);
    row.forEach((index, k) => {
      if (index >= 0) paths[index] += `M${2 * k + parity + 0.5} ${r * high}l1 ${high}-1 ${high}-1-${high}z`;
    });
  });
  return svg`<svg viewBox="-0.5 0 ${strings} ${(rows.length + 1) * high}" aria-hidden="true">
    ${palette.map(({ hex }, i) => (paths[i] === '' ? '' : svg`<path d=${paths[i]!} fill=${hex} />`))}
  </svg>`;
}

/** A motif as it lies on a band, in the colour of the text. @throws RangeError for a sign that is not drawn */
export function motifIcon(sign: string): SVGTemplateResult {
  const inks = ['none', 'currentColor'].map((hex, i) => ({ id: String(i), name: '', hex }));
  const laid = layLettering({ text: sign, run: 'upright', strings: 14, size: 1 }, inks);
  if (!laid.ok) throw new RangeError(`${sign} is not drawn`);
  return wishPicture(laid.wish);
}
