/** Lists, tables, forms and cautions as every panel shows them. */
import { css } from 'lit';

export const panelStyles = css`
  :host {
    display: grid;
    gap: var(--lb-space-3);
    min-width: 0;
  }
  h3 {
    font-size: var(--lb-size-body);
    font-weight: 650;
    margin-block-start: var(--lb-space-2);
  }
  summary {
    min-height: 24px;
    cursor: pointer;
  }
  .card > h3:first-child {
    margin: 0;
  }
  ul,
  ol {
    margin: 0;
    padding: 0;
    list-style: none;
    display: grid;
    gap: var(--lb-space-1);
    min-width: 0;
  }
  .entry {
    display: grid;
    grid-template-columns: 2em 1.4em minmax(0, 1fr) auto;
    gap: 0 var(--lb-space-1);
    align-items: baseline;
    padding: var(--lb-space-1) var(--lb-space-2);
    border-radius: var(--lb-radius-small);
  }
  .entry:hover,
  .entry:focus-visible {
    background: var(--lb-sunken);
  }
  .pointed {
    background: var(--lb-sunken);
    outline: 2px solid var(--lb-accent);
  }
  .entry .turn,
  .number {
    font-weight: 700;
    font-variant-numeric: tabular-nums;
  }
  .entry .below {
    grid-column: 3;
  }
  .entry lb-entry-mark {
    grid-column: 4;
    grid-row: 1 / span 2;
  }
  .card {
    display: grid;
    gap: var(--lb-space-2);
    padding: var(--lb-space-3);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    background: var(--lb-surface);
    min-width: 0;
  }
  .estimate {
    border: 1px dashed var(--lb-line-strong);
    border-radius: 99px;
    padding: 0 var(--lb-space-2);
    font-size: var(--lb-size-small);
    color: var(--lb-text-quiet);
    white-space: nowrap;
  }
  .pill {
    border: 1px solid var(--lb-line-strong);
    border-radius: 99px;
    padding: 0 var(--lb-space-2);
    font-size: var(--lb-size-small);
  }
  progress {
    width: 100%;
    accent-color: var(--lb-accent);
  }
  .caution {
    padding: var(--lb-space-2) var(--lb-space-3);
    border-inline-start: 4px solid var(--lb-warn);
    background: var(--lb-sunken);
    font-size: var(--lb-size-small);
  }
  dl {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto;
    gap: var(--lb-space-1) var(--lb-space-3);
    margin: 0;
  }
  dd {
    margin: 0;
    text-align: end;
    font-variant-numeric: tabular-nums;
  }
  .fields {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(130px, 1fr));
    gap: var(--lb-space-1) var(--lb-space-3);
    align-items: start;
  }
  /* Labels, fields and what is said below them stand in rows of their own, however many lines a label takes. */
  .fields > .field {
    grid-row: span 4;
    grid-template-rows: subgrid;
    padding-block-end: var(--lb-space-2);
  }
  .fields > .field > .head {
    align-self: end;
  }
  .field {
    display: grid;
    gap: var(--lb-space-1);
    align-content: start;
    min-width: 0;
  }
  .head {
    display: flex;
    gap: var(--lb-space-1);
    align-items: center;
    justify-content: space-between;
    min-width: 0;
  }
  .field .head {
    min-height: 28px;
  }
  @media (pointer: coarse) {
    .field .head {
      min-height: 36px;
    }
  }
  .field label {
    font-size: var(--lb-size-small);
    font-weight: 600;
  }
  .field input,
  .field select {
    width: 100%;
    min-width: 0;
  }
  .field [aria-invalid='true'] {
    border-color: var(--lb-warn);
    border-width: 2px;
  }
  .field .wrong {
    color: var(--lb-warn);
    font-size: var(--lb-size-small);
    font-weight: 600;
  }
  fieldset {
    min-width: 0;
    margin: 0;
    padding: var(--lb-space-3);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    display: grid;
    gap: var(--lb-space-3);
  }
  legend {
    font-weight: 650;
    padding: 0 var(--lb-space-1);
  }
  .choices {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-1);
  }
  .choices button {
    padding: 0 var(--lb-space-2);
  }
  .actions {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-2);
    align-items: center;
  }
`;
