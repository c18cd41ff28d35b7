/** Buttons, fields and links as every element of the page shows them. */
import { css } from 'lit';

export const controls = css`
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  [hidden] {
    display: none !important;
  }
  button,
  .button {
    display: inline-flex;
    align-items: center;
    justify-content: center;
    gap: var(--lb-space-2);
    min-height: var(--lb-target);
    min-width: var(--lb-target);
    padding: 0 var(--lb-space-3);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius-small);
    background: var(--lb-surface);
    color: var(--lb-text);
    font: inherit;
    text-decoration: none;
    cursor: pointer;
  }
  button:hover:not(:disabled),
  .button:hover {
    border-color: var(--lb-line-strong);
  }
  button[aria-pressed='true'],
  button.primary {
    background: var(--lb-accent);
    border-color: var(--lb-accent);
    color: var(--lb-on-accent);
  }
  button:disabled {
    opacity: 0.45;
    cursor: default;
  }
  :focus-visible {
    outline: 3px solid var(--lb-accent);
    outline-offset: 2px;
  }
  input,
  select {
    min-height: var(--lb-target);
    padding: 0 var(--lb-space-2);
  }
  textarea {
    width: 100%;
  }
  input,
  select,
  textarea {
    border: 1px solid var(--lb-line-strong);
    border-radius: var(--lb-radius-small);
    background: var(--lb-surface);
    color: var(--lb-text);
    font: inherit;
  }
  h1,
  h2,
  h3,
  p {
    margin: 0;
  }
  h1 {
    font-size: var(--lb-size-title);
    line-height: 1.2;
    font-weight: 700;
  }
  h2 {
    font-size: var(--lb-size-lead);
    font-weight: 650;
  }
  .quiet {
    color: var(--lb-text-quiet);
  }
  .small {
    font-size: var(--lb-size-small);
  }
  .warn {
    color: var(--lb-warn);
    font-weight: 600;
  }
  .good {
    color: var(--lb-good);
    font-weight: 600;
  }
  .swatch,
  .swatch-button span {
    /* The colour is the content. */
    forced-color-adjust: none;
  }
  .swatch {
    display: inline-block;
    width: 1em;
    height: 1em;
    border-radius: 3px;
    border: 1px solid var(--lb-line-strong);
    vertical-align: -0.12em;
  }
  .drop {
    position: fixed;
    inset: var(--lb-space-4);
    z-index: 30;
    display: grid;
    place-items: center;
    border: 3px dashed var(--lb-accent);
    border-radius: var(--lb-radius);
    background: color-mix(in srgb, var(--lb-page) 88%, transparent);
    font-size: var(--lb-size-title);
    font-weight: 700;
    pointer-events: none;
  }
  /* Without backgrounds of our own, what is chosen would look like what is not. */
  @media (forced-colors: active) {
    button[aria-pressed='true'],
    [role='tab'][aria-selected='true'],
    [role='option'][aria-selected='true'],
    [role='radio'][aria-checked='true'] {
      forced-color-adjust: none;
      border-color: Highlight !important;
      background: Highlight !important;
      color: HighlightText !important;
    }
  }
  .visually-hidden {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
`;
