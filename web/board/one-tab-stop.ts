/**
 * Each tool bar is one tab stop, after the toolbar of the APG: Tab comes to the button that was used last, arrows go along, Home and End to the
 * ends. Buttons that are behind another one are reached through that. The key of each stands in its corner from then on.
 */
import { toolBarStyles } from './tool-bar.styles.ts';

const BACK = ['ArrowLeft', 'ArrowUp'];
const ON = ['ArrowRight', 'ArrowDown'];

function buttonsOf(bar: Element): readonly HTMLButtonElement[] {
  return [...bar.querySelectorAll('button')].filter((button) => !button.disabled);
}

/** Not the switch of the finger where there is none. */
function hasPlace(button: HTMLButtonElement): boolean {
  return !button.matches('.more') && (!button.matches('.finger') || button.checkVisibility());
}

function keepOneStop(bar: Element, used?: HTMLButtonElement): void {
  const can = buttonsOf(bar);
  const stop =
    used ??
    can.find((button) => button.getAttribute('tabindex') === '0' && hasPlace(button)) ??
    can.find(hasPlace);
  // Where the folded ones are not in sight, the button that shows them stands for them.
  const isFolded = stop?.closest('.folded') != null;
  for (const button of bar.querySelectorAll('button'))
    button.tabIndex = button === stop || (isFolded && button.matches('.more')) ? 0 : -1;
}

/** In the frame that has the tool bars; it comes once they have been seen. */
export class LbOneTabStop extends HTMLElement {
  readonly #watch = new MutationObserver(() => this.#keep());

  connectedCallback(): void {
    const frame = this.parentElement;
    if (frame === null) return;
    const root = this.getRootNode() as ShadowRoot;
    root.adoptedStyleSheets = [...root.adoptedStyleSheets, toolBarStyles.styleSheet!];
    frame.addEventListener('focusin', this.#onFocus);
    frame.addEventListener('keydown', this.#onKey);
    this.#watch.observe(frame, { subtree: true, childList: true, attributeFilter: ['disabled'] });
    this.#keep();
  }

  disconnectedCallback(): void {
    this.#watch.disconnect();
  }

  #keep(): void {
    for (const bar of this.parentElement?.querySelectorAll('[role=toolbar]') ?? []) keepOneStop(bar);
  }

  readonly #onFocus = ({ target }: Event): void => {
    const bar = (target as Element).closest('[role=toolbar]');
    if (bar === null) return;
    const isColumn = getComputedStyle(bar).flexDirection === 'column';
    bar.setAttribute('aria-orientation', isColumn ? 'vertical' : 'horizontal');
    if ((target as Element).matches('button')) keepOneStop(bar, target as HTMLButtonElement);
  };

  readonly #onKey = (event: Event): void => {
    const { key, target } = event as KeyboardEvent;
    const bar = (target as Element).closest('[role=toolbar]');
    if (bar === null || !(target as Element).matches('button')) return;
    const all = buttonsOf(bar).filter((button) => button.checkVisibility());
    const at = all.indexOf(target as HTMLButtonElement);
    const isTurned = getComputedStyle(bar).direction === 'rtl' && /Left|Right/.test(key);
    const step = (BACK.includes(key) ? -1 : ON.includes(key) ? 1 : 0) * (isTurned ? -1 : 1);
    const to = key === 'Home' ? 0 : key === 'End' ? all.length - 1 : at + step;
    if (to === at) return;
    event.preventDefault();
    all[(to + all.length) % all.length]?.focus();
  };
}
