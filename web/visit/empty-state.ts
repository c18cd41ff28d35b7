/** A page without a board: while it comes, or where there is none. A ring, and what hangs from it, says which at a glance. */
import { css, html, type SVGTemplateResult, svg, type TemplateResult } from 'lit';

export type EmptyKind = 'loading' | 'gone';

const ENDS = [34, 50, 66, 82];

/** Ends that hang straight, waiting to be tied; or come loose. */
function ends(kind: EmptyKind): SVGTemplateResult[] {
  return ENDS.map((x, i) =>
    kind === 'loading'
      ? svg`<path class="end" style="--i: ${i}" d="M${x} 62v58" />`
      : svg`<path class="end" d="M${x} 62v${14 + ((i * 7) % 12)}" /><path class="end loose" d="M${x - 6} ${104 + ((i * 11) % 9)}q14 ${8 - i * 4} 28 ${2 + i}" />`,
  );
}

/** The drawing with a sentence below it, and what can be done. */
export function emptyState(kind: EmptyKind, sentence: string, action: TemplateResult): TemplateResult {
  return html`<main class="empty">
    <svg class=${kind} viewBox="0 0 116 128" width="116" height="128" fill="none" stroke-linecap="round" aria-hidden="true">
      <path class="ring" d="M18 62V48a40 40 0 0 1 80 0v14z" />
      ${ends(kind)}
    </svg>
    <p role="status">${sentence}</p>
    ${action}
  </main>`;
}

export const emptyStateStyles = css`
  main.empty {
    display: grid;
    grid-template: none / auto;
    place-content: center;
    justify-items: center;
    gap: var(--lb-space-4);
    padding: var(--lb-space-5);
    text-align: center;
  }
  main.empty p {
    max-width: 44ch;
    font-size: var(--lb-size-lead);
    text-wrap: balance;
  }
  main.empty .ring {
    stroke: var(--lb-line-strong);
    stroke-width: 5;
    stroke-linejoin: round;
  }
  main.empty .end {
    stroke: var(--lb-accent);
    stroke-width: 8;
  }
  main.empty .end:nth-of-type(2n) {
    stroke: var(--lb-warn);
  }
  main.empty .gone .end {
    stroke: var(--lb-line-strong);
  }
  main.empty .loose {
    opacity: 0.6;
  }
  @media (prefers-reduced-motion: no-preference) {
    main.empty .loading .end {
      animation: hang 1.4s calc(var(--i) * 0.12s) ease-in-out infinite alternate;
      transform-origin: 0 62px;
    }
  }
  @keyframes hang {
    from {
      transform: scaleY(0.55);
    }
  }
`;
