/** The tools of the board as a list: how each is drawn, what it is called, which key it has. Needs the texts of the board. */
import { html, nothing, type TemplateResult } from 'lit';
import type { KnotCode } from '../../engine/index.ts';
import { actionOf, keysOf } from '../board/index.ts';
import { icon, knotIcon } from '../icons/index.ts';
import { t } from '../text/index.ts';

const TOOLS = 'tool-tie tool-line tool-fill mirror tool-select tool-trace tool-pick tool-pan show swap'.split(
  ' ',
);

export function toolList(): TemplateResult {
  const knots = ([1, 2, 3, 4, 0] as readonly KnotCode[]).map(
    (knot) => [`knot-${knot}`, knotIcon(knot)] as const,
  );
  const tools = TOOLS.map((id) => [id, icon(actionOf(id).icon!)] as const);
  return html`<ul class="tools">${[...knots, ...tools].map(([id, picture]) => {
    const action = actionOf(id);
    const key = keysOf(action)[0];
    return html`<li data-action=${id}>${picture}<span>${t(action.key)}</span>${key === undefined ? nothing : html`<kbd>${key}</kbd>`}</li>`;
  })}</ul>`;
}
