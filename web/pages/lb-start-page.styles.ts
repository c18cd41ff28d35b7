import { css } from 'lit';

export const startPageStyles = css`
  :host {
    display: block;
    max-width: 1100px;
    margin: 0 auto;
    padding: var(--lb-space-6) var(--lb-space-4);
  }
  header {
    display: flex;
    flex-wrap: wrap;
    justify-content: space-between;
    align-items: start;
    gap: var(--lb-space-4);
    margin-block-end: var(--lb-space-6);
  }
  nav {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-2);
  }
  header p {
    font-size: var(--lb-size-lead);
    margin-block-start: var(--lb-space-2);
    max-width: 46ch;
  }
  .columns {
    display: grid;
    grid-template-columns: minmax(0, 1fr) 300px;
    gap: var(--lb-space-6);
    align-items: start;
  }
  /* Making a board comes first, also where all stands below each other. */
  .boards {
    grid-area: 1 / 1 / span 2;
    min-width: 0;
  }
  lb-beginnings {
    display: grid;
    min-height: 420px;
    margin-block-end: var(--lb-space-6);
  }
  .own-actions {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-1);
  }
  .own-actions button {
    font-size: var(--lb-size-small);
  }
  .own-card {
    display: flex;
    flex-direction: column;
    gap: var(--lb-space-1);
  }
  .cards {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(150px, 1fr));
    gap: var(--lb-space-4);
    margin-block-start: var(--lb-space-4);
    padding: 0;
    list-style: none;
  }
  .card {
    display: flex;
    flex-direction: column;
    gap: var(--lb-space-2);
    padding: var(--lb-space-3);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    background: var(--lb-surface);
    color: inherit;
    text-decoration: none;
    height: 100%;
  }
  .card:hover {
    border-color: var(--lb-line-strong);
    box-shadow: var(--lb-shadow);
  }
  .card b {
    font-weight: 650;
    line-height: 1.25;
  }
  lb-band-picture {
    height: 150px;
  }
  section {
    margin-block-end: var(--lb-space-5);
  }
  .panel {
    padding: var(--lb-space-4);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    background: var(--lb-surface);
    display: grid;
    gap: var(--lb-space-3);
  }
  .pair {
    display: grid;
    grid-template-columns: 1fr 1fr;
    gap: var(--lb-space-3);
  }
  label {
    display: grid;
    gap: var(--lb-space-1);
    font-weight: 600;
  }
  input[type='number'] {
    width: 100%;
  }
  [aria-invalid='true'] {
    border-color: var(--lb-warn);
    border-width: 2px;
  }
  .file {
    position: relative;
    justify-self: start;
  }
  .file:focus-within {
    outline: 3px solid var(--lb-accent);
    outline-offset: 2px;
  }
  .ribbon {
    position: absolute;
    inset: 0 0 auto;
    height: 20px;
    overflow: hidden;
  }
  summary {
    min-height: var(--lb-target);
    line-height: var(--lb-target);
    cursor: pointer;
    font-weight: 600;
  }
  details[open] {
    display: grid;
    gap: var(--lb-space-2);
  }
  textarea {
    font: 0.875rem / 1.4 ui-monospace, monospace;
  }
  @media (max-width: 760px) {
    :host {
      padding-block: var(--lb-space-5);
    }
    .columns {
      grid-template-columns: minmax(0, 1fr);
    }
    .columns > * {
      grid-area: auto;
    }
    .cards {
      grid-template-columns: repeat(auto-fill, minmax(140px, 1fr));
    }
  }
`;
