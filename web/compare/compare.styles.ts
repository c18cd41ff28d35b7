/** Looks of a comparison: pictures beside lists where there is room, one under the other where there is not. */
import { css } from 'lit';

export const compareStyles = css`
  :host {
    display: grid;
    grid-template-columns: minmax(0, 1.3fr) minmax(0, 1fr);
    gap: var(--lb-space-4) var(--lb-space-5);
    align-items: start;
    min-width: 0;
  }
  .pictures {
    grid-row: span 2;
    position: sticky;
    inset-block-start: 0;
    min-width: 0;
  }
  .captions,
  .two {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
    gap: var(--lb-space-2);
    align-items: start;
  }
  .captions h3 {
    text-align: center;
    overflow-wrap: anywhere;
    padding-block-end: var(--lb-space-1);
  }
  h3 {
    font-size: var(--lb-size-body);
    font-weight: 650;
  }
  h4 {
    margin: var(--lb-space-3) 0 var(--lb-space-1);
    font-size: var(--lb-size-small);
    font-weight: 650;
    color: var(--lb-text-quiet);
  }
  .scroll {
    overflow: auto;
    max-height: min(64vh, 46rem);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    background: var(--lb-surface);
  }
  .legend {
    list-style: none;
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-1) var(--lb-space-4);
    padding: var(--lb-space-2) 0 0;
    margin: 0;
  }
  .legend li {
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
  }
  .ring,
  .dot,
  .bar {
    display: inline-block;
    flex: none;
  }
  .ring {
    width: 14px;
    height: 14px;
    border: 2px solid var(--lb-text);
    border-radius: 50%;
  }
  .asked {
    flex: none;
    width: 16px;
    height: 16px;
    border-radius: 3px;
    background: var(--lb-text);
    color: var(--lb-page);
    font-weight: 700;
    line-height: 16px;
    text-align: center;
  }
  .dot {
    width: 6px;
    height: 6px;
    margin: 0 4px;
    background: var(--lb-text);
    border-radius: 50%;
  }
  .bar {
    width: 3px;
    height: 14px;
    margin: 0 5px;
    background: var(--lb-text);
    border-radius: 2px;
  }
  @media (forced-colors: active) {
    .dot,
    .bar {
      forced-color-adjust: none;
      background: CanvasText;
    }
  }
  .differences {
    list-style: none;
    margin: 0;
    padding: 0;
    display: grid;
  }
  .differences li {
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
    justify-content: space-between;
    min-height: var(--lb-target);
    padding-block: var(--lb-space-1);
    border-block-end: 1px solid var(--lb-line);
    overflow-wrap: anywhere;
  }
  .differences label {
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
    flex: 1;
    min-height: var(--lb-target);
  }
  .differences input {
    flex: none;
    width: 20px;
    min-height: 20px;
    margin: 2px;
    accent-color: var(--lb-accent);
  }
  .show {
    flex: none;
    border-color: transparent;
    background: transparent;
  }
  .show svg {
    fill: none;
    stroke: currentColor;
    stroke-width: 1.5;
  }
  table {
    width: 100%;
    border-collapse: collapse;
    font-variant-numeric: tabular-nums;
  }
  th,
  td {
    padding: var(--lb-space-1) var(--lb-space-2);
    text-align: start;
    vertical-align: baseline;
    border-block-end: 1px solid var(--lb-line);
    overflow-wrap: anywhere;
  }
  th {
    font-size: var(--lb-size-small);
    font-weight: 600;
  }
  tbody th {
    font-weight: 400;
  }
  [data-differs='true'] td {
    font-weight: 650;
  }
  @media (max-width: 900px) {
    :host {
      grid-template-columns: minmax(0, 1fr);
    }
    .pictures {
      position: static;
      grid-row: auto;
    }
    .scroll {
      max-height: 52vh;
    }
  }
`;
