/** The four knots and untying, as tools. */
import { html, svg, type TemplateResult } from 'lit';
import type { KnotCode } from '../../engine/index.ts';
import { t } from '../text/index.ts';

export const KNOT_TOOLS = [
  { knot: 1, key: 'board.tool.forward' },
  { knot: 2, key: 'board.tool.backward' },
  { knot: 3, key: 'board.tool.forwardBackward' },
  { knot: 4, key: 'board.tool.backwardForward' },
  { knot: 0, key: 'board.tool.untie' },
] as const;

const PATHS: Readonly<Record<KnotCode, string>> = {
  0: 'M9 4v16M15 4v16',
  1: 'M7 8l7 9M10 7l7 9',
  2: 'M17 8l-7 9M14 7l-7 9',
  3: 'M8 5l8 7M16 12l-8 7',
  4: 'M16 5l-8 7M8 12l8 7',
};

/** A knot's strokes as a small picture. */
export function knotIcon(knot: KnotCode): TemplateResult {
  return html`<svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
    ${knot === 0 ? svg`` : svg`<path d="M12 0 24 12 12 24 0 12z" fill="currentColor" opacity="0.16" />`}
    <path d=${PATHS[knot]} fill="none" stroke="currentColor" stroke-width="2.4" stroke-linecap="round" />
  </svg>`;
}

/** The word for a knot that is tied. @throws RangeError for 0 */
export function kindName(knot: KnotCode): string {
  switch (knot) {
    case 1:
      return t('board.kind.forward');
    case 2:
      return t('board.kind.backward');
    case 3:
      return t('board.kind.forwardBackward');
    case 4:
      return t('board.kind.backwardForward');
    case 0:
      throw new RangeError('an untied pair has no kind');
  }
}
