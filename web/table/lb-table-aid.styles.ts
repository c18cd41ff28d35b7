/** What is said scrolls; below it, within reach of the thumb, which help it is and the way back. */
import { css } from 'lit';

export const aidStyles = css`
  :host {
    grid-template-rows: minmax(0, 1fr) auto;
    height: 100dvh;
  }
  main {
    display: grid;
    grid-template-columns: minmax(0, 48rem);
    justify-content: center;
    align-content: start;
    gap: var(--lb-space-2);
    padding: var(--lb-space-3);
    overscroll-behavior: contain;
  }
  nav {
    display: grid;
    grid-template-columns: repeat(5, minmax(0, 1fr));
    gap: var(--lb-space-1);
    padding: var(--lb-space-1) var(--lb-space-2) var(--lb-space-2);
    border-block-start: 1px solid var(--lb-line);
  }
  nav button {
    min-height: 56px;
    padding: 0 2px;
    font-size: var(--lb-size-small);
    line-height: 1.15;
    overflow-wrap: anywhere;
  }
  nav button[aria-current='page'] {
    border-color: var(--lb-accent);
    border-width: 2px;
    font-weight: 700;
  }
  .strip {
    display: flex;
    flex-wrap: wrap;
    gap: 2px;
    /* As it hangs, in any direction of writing. */
    direction: ltr;
  }
  .strip.right {
    flex-direction: row-reverse;
  }
  .strip span {
    width: 22px;
    height: 28px;
    border: 1px solid var(--lb-line-strong);
    border-radius: 4px;
    forced-color-adjust: none;
  }
  .strip .open {
    border-style: dashed;
  }
  .strip .wrong {
    outline: 3px solid var(--lb-accent);
    outline-offset: 1px;
  }
  .taps button:not(.wide) {
    width: 52px;
    height: 52px;
    padding: 0;
  }
  .taps .swatch {
    width: 34px;
    height: 34px;
  }
  ul.places {
    display: grid;
    gap: var(--lb-space-2);
    margin: 0;
    padding: 0;
    list-style: none;
  }
  .place {
    display: grid;
    width: 100%;
    min-height: 56px;
    gap: 0;
    align-content: center;
    justify-content: start;
    justify-items: start;
    text-align: start;
  }
  .picture svg,
  figure svg {
    width: 100%;
    height: auto;
    max-height: 46dvh;
  }
  .picture {
    touch-action: manipulation;
  }
  .moves {
    justify-content: center;
  }
  .moves button {
    width: 56px;
    height: 44px;
    font-size: 1.25rem;
  }
  button.wide {
    min-height: 48px;
  }
  .way > button {
    width: 100%;
    min-height: 56px;
    font-weight: 700;
  }
  .beside {
    display: grid;
    grid-auto-flow: column;
    grid-auto-columns: minmax(0, 1fr);
    gap: var(--lb-space-2);
    align-items: start;
  }
  figure {
    margin: 0;
    min-width: 0;
  }
  .way {
    display: grid;
    gap: var(--lb-space-2);
    padding: var(--lb-space-3);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
  }
  ol,
  ul {
    margin: 0;
    padding-inline-start: 1.4em;
  }
  table {
    width: 100%;
    border-collapse: collapse;
    font-variant-numeric: tabular-nums;
  }
  th,
  td {
    padding: 2px;
    text-align: end;
    font-weight: 400;
    font-size: var(--lb-size-small);
  }
  thead th {
    color: var(--lb-text-quiet);
    vertical-align: bottom;
  }
  th[scope='row'],
  thead th:first-child {
    text-align: start;
  }
  .string {
    width: 100%;
    min-height: 44px;
    justify-content: start;
    gap: var(--lb-space-1);
    padding: 0 var(--lb-space-1);
  }
  .string .name {
    min-width: 0;
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
  }
  .fields {
    display: grid;
    gap: var(--lb-space-2);
    max-width: 24rem;
  }
  dl {
    display: grid;
    grid-template-columns: auto 1fr;
    gap: var(--lb-space-1) var(--lb-space-3);
    margin: 0;
  }
  dd {
    margin: 0;
    font-variant-numeric: tabular-nums;
  }
`;
