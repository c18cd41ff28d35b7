/** Marks the entries of the panels that speak of what is pointed at on the board. */
import type { Pointed } from '../board/index.ts';

/**
 * Entries say what they speak of: `data-strings="3 8"` strings by their place at the top, `data-knots="4:2 4:5"` knots as row and knot.
 * O(elements in the open panel).
 */
export function markPointed(root: ParentNode, at: Pointed | null): void {
  for (const element of root.querySelectorAll<HTMLElement>('*')) {
    const { strings, knots } = element.dataset;
    if (strings !== undefined || knots !== undefined) {
      const isMeant =
        at !== null &&
        (strings?.split(' ').some((place) => place === String(at.left) || place === String(at.right)) ||
          knots?.split(' ').includes(`${at.row}:${at.k}`));
      element.classList.toggle('pointed', isMeant === true);
    }
    if (element.shadowRoot !== null) markPointed(element.shadowRoot, at);
  }
}
