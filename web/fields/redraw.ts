/** Draws every element of the page anew, for what no property tells them: the language. */
import { ReactiveElement } from 'lit';

/** O(elements of the page). @param root what is drawn anew, with all shadow roots below */
export function redrawAll(root: Document | ShadowRoot = document): void {
  for (const element of root.querySelectorAll('*')) {
    if (element instanceof ReactiveElement) element.requestUpdate();
    if (element.shadowRoot !== null) redrawAll(element.shadowRoot);
  }
}
