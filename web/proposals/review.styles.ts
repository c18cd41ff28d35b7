/** Looks of a review: a page of its own over the page. */
import { css } from 'lit';

export const reviewStyles = css`
  :host {
    display: contents;
  }
  dialog {
    width: min(82rem, calc(100vw - 2 * var(--lb-space-3)));
    max-width: none;
    height: calc(100dvh - 2 * var(--lb-space-3));
    max-height: none;
    padding: 0;
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    background: var(--lb-page);
    color: var(--lb-text);
  }
  dialog[open] {
    display: grid;
    grid-template-rows: auto minmax(0, 1fr) auto;
  }
  dialog::backdrop {
    background: rgb(0 0 0 / 45%);
  }
  .top {
    display: flex;
    justify-content: space-between;
    align-items: start;
    gap: var(--lb-space-3);
    padding: var(--lb-space-3) var(--lb-space-4);
    border-block-end: 1px solid var(--lb-line);
    overflow-wrap: anywhere;
  }
  .top button {
    flex: none;
  }
  .body {
    overflow: auto;
    padding: var(--lb-space-4);
    display: grid;
    gap: var(--lb-space-3);
    align-content: start;
    min-width: 0;
  }
  .body > p:empty {
    display: none;
  }
  .actions {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-2) var(--lb-space-3);
    align-items: center;
  }
  .answer {
    display: grid;
    gap: var(--lb-space-2);
    padding: var(--lb-space-3) var(--lb-space-4);
    border-block-start: 1px solid var(--lb-line);
    background: var(--lb-surface);
  }
  .answer label {
    font-size: var(--lb-size-small);
    font-weight: 600;
  }
  textarea {
    padding: var(--lb-space-2);
    background: var(--lb-page);
    resize: vertical;
  }
  .conflicts {
    display: grid;
    gap: var(--lb-space-2);
    margin-block-start: var(--lb-space-4);
    padding: var(--lb-space-3);
    border: 2px solid var(--lb-warn);
    border-radius: var(--lb-radius);
  }
  .conflicts h3 {
    font-size: var(--lb-size-body);
    font-weight: 650;
  }
  fieldset {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(11rem, 1fr));
    gap: var(--lb-space-1) var(--lb-space-3);
    margin: 0;
    padding: var(--lb-space-1) var(--lb-space-3) var(--lb-space-2);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius-small);
    min-width: 0;
  }
  legend {
    font-weight: 600;
    font-size: var(--lb-size-small);
    overflow-wrap: anywhere;
  }
  fieldset label {
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
    min-height: var(--lb-target);
    overflow-wrap: anywhere;
    min-width: 0;
  }
  fieldset button {
    justify-self: start;
  }
  fieldset input {
    flex: none;
    width: 20px;
    min-height: 20px;
    margin: 2px;
    accent-color: var(--lb-accent);
  }
  @media (max-width: 600px) {
    dialog {
      width: 100vw;
      height: 100dvh;
      margin: 0;
      border: 0;
      border-radius: 0;
    }
    .body,
    .answer,
    .top {
      padding: var(--lb-space-2) var(--lb-space-3);
    }
    textarea {
      height: 2.6em;
    }
  }
`;
