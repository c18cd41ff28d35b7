/**
 * Buttons that stand in a row where there is room, and behind one button where there is none.
 *
 * One element is both: a popover which a wide page shows in place (`display: contents` where it is not open). Nothing is drawn twice, and
 * where it is shown in place nothing opens.
 */
import { css } from 'lit';

/** To be used inside the query that says when there is no room; elsewhere {@link unfolded}. */
export const folded = css`
  .more {
    display: inline-flex;
  }
  .folded:not(:popover-open) {
    display: none;
  }
  .folded:popover-open {
    display: flex;
  }
`;

/** For wide pages: the buttons in place, without the one that opens them. */
export const unfolded = css`
  .more {
    display: none;
  }
  .folded {
    display: contents;
  }
  .folded:popover-open {
    position: fixed;
    inset: auto;
    flex-wrap: wrap;
    gap: var(--lb-space-1);
    margin: 0;
    padding: var(--lb-space-2);
    max-width: calc(100vw - 16px);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    background: var(--lb-surface);
    color: var(--lb-text);
    box-shadow: var(--lb-shadow);
  }
`;

const BESIDE_PX = 6;
const EDGE_PX = 8;

/** Puts what was opened beside the button that opened it, inside the window: below it, or above where there is more room. */
export function placeFolded(event: Event): void {
  if ((event as ToggleEvent).newState !== 'open') return;
  const sheet = event.currentTarget as HTMLElement;
  const button = sheet.parentElement?.querySelector<HTMLElement>('.more')?.getBoundingClientRect();
  if (button === undefined) return;
  const box = sheet.getBoundingClientRect();
  const isBelow = button.top + button.bottom < innerHeight;
  const left = Math.max(EDGE_PX, Math.min(button.left, innerWidth - box.width - EDGE_PX));
  sheet.style.left = `${left}px`;
  sheet.style.top = `${isBelow ? button.bottom + BESIDE_PX : button.top - BESIDE_PX - box.height}px`;
}

/** Closes it once something in it was chosen. */
export function closeFolded(event: Event): void {
  const chosen = event.composedPath()[0];
  const sheet = event.currentTarget as HTMLElement;
  if (chosen instanceof Element && chosen.closest('button, a') !== null && sheet.matches(':popover-open'))
    sheet.hidePopover();
}
