/** Paper: black on white whatever the theme, in millimetres, with a page on the screen as it will be printed. */
import { css } from 'lit';

export const paperStyles = css`
  :host {
    display: block;
    min-height: 100dvh;
    background: var(--lb-sunken);
    --lb-surface: #fff;
    --lb-text: #000;
    --lb-line: #bbb;
    --lb-line-strong: #666;
    --lb-text-quiet: #444;
    --lb-warn: #a00000;
  }
  .bar {
    display: flex;
    flex-wrap: wrap;
    align-items: end;
    gap: var(--lb-space-3);
    padding: var(--lb-space-3) var(--lb-space-4);
    background: var(--lb-sunken);
    --lb-surface: #fffdf9;
  }
  .bar fieldset {
    display: flex;
    flex-wrap: wrap;
    gap: 0 var(--lb-space-3);
    border: 0;
    margin: 0;
    padding: 0;
    min-width: 0;
  }
  .bar label {
    display: inline-flex;
    align-items: center;
    gap: var(--lb-space-1);
    min-height: var(--lb-target);
  }
  .bar,
  .message {
    color: #332b25;
    background: #f1e8d9;
  }
  .message {
    padding: var(--lb-space-6);
    min-height: 60dvh;
  }
  .sheet {
    box-sizing: border-box;
    max-width: 196mm;
    margin: 8mm auto;
    padding: 8mm;
    background: #fff;
    color: #000;
    font-size: 10pt;
    line-height: 1.4;
    box-shadow: 0 1px 8px rgb(0 0 0 / 25%);
    /* Paper is white and its colours are the pattern's. */
    forced-color-adjust: none;
    print-color-adjust: exact;
    -webkit-print-color-adjust: exact;
    overflow-x: auto;
  }
  h1 {
    font-size: 20pt;
    margin-block-end: 3mm;
  }
  h2 {
    font-size: 13pt;
    margin-block: 5mm 2mm;
    break-after: avoid;
  }
  h3 {
    font-size: 11pt;
    margin-block: 4mm 1mm;
    break-after: avoid;
  }
  .totals {
    margin-block: 0 2mm;
    padding-inline-start: 5mm;
  }
  svg,
  img {
    max-width: 100%;
  }
  .front {
    display: grid;
    grid-template-columns: auto minmax(0, 1fr);
    gap: 8mm;
    align-items: start;
  }
  .front img {
    max-width: 70mm;
    max-height: 110mm;
    width: auto;
  }
  .whole {
    break-inside: avoid;
  }
  .true {
    overflow: hidden;
  }
  .true img,
  .check svg {
    display: block;
    max-width: none;
  }
  .mounting {
    display: block;
    width: 100%;
    max-height: 75mm;
  }
  .mounting path[stroke-width='5'] {
    /* Light cord on white paper needs an edge. */
    filter: drop-shadow(0 0 0.6px #222);
  }
  .notes {
    white-space: pre-wrap;
    overflow-wrap: anywhere;
  }
  .lead {
    break-after: avoid;
  }
  figure {
    display: inline-block;
    max-width: 100%;
    margin: 0;
    margin-inline-end: 6mm;
    margin-block-end: 4mm;
    vertical-align: top;
    break-inside: avoid;
  }
  figcaption {
    font-size: 9pt;
    margin-block-end: 1mm;
  }
  table {
    break-inside: avoid;
    border-collapse: collapse;
    width: 100%;
  }
  th,
  td {
    padding: 0.8mm 2mm;
    border-block-end: 0.2mm solid #bbb;
    text-align: start;
    font-variant-numeric: tabular-nums;
  }
  thead {
    display: table-header-group;
  }
  tr,
  li {
    break-inside: avoid;
  }
  ol.steps {
    columns: 2;
    column-gap: 8mm;
    padding: 0;
    margin: 0;
    list-style: none;
    font-size: 8.5pt;
  }
  ul {
    padding-inline-start: 5mm;
    margin: 0;
  }
  .colours {
    list-style: none;
    padding: 0;
  }
  .swatch {
    display: inline-block;
    width: 3.5mm;
    height: 3.5mm;
    border: 0.2mm solid #555;
    border-radius: 0.8mm;
    vertical-align: -0.5mm;
    margin-inline-end: 1.5mm;
  }
  .quiet {
    color: #444;
  }
  .card {
    max-width: 148mm;
    display: grid;
    gap: 5mm;
    border: 0.4mm solid #888;
    border-radius: 3mm;
  }
  .card .front img {
    max-width: 45mm;
    max-height: 90mm;
  }
  .line {
    display: flex;
    gap: 3mm;
    align-items: end;
  }
  .line::after {
    content: '';
    flex: 1;
    border-block-end: 0.3mm solid #555;
  }
  @media (max-width: 600px) {
    .sheet {
      margin: 0;
      padding: 4mm;
    }
    .front {
      grid-template-columns: minmax(0, 1fr);
    }
    ol.steps {
      columns: 1;
    }
  }
  @media print {
    :host {
      min-height: 0;
      background: #fff;
    }
    .bar {
      display: none;
    }
    .sheet {
      max-width: none;
      margin: 0;
      padding: 0;
      box-shadow: none;
      overflow: visible;
    }
    .card {
      padding: 8mm;
    }
  }
`;
