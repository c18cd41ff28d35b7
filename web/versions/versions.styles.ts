import { css } from 'lit';

export const versionsStyles = css`
  form {
    display: grid;
    gap: var(--lb-space-2);
  }
  .keep {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto;
    gap: var(--lb-space-2);
    align-items: end;
  }
  .days {
    display: grid;
    gap: var(--lb-space-3);
  }
  .days h3 {
    margin: 0;
    padding-block-end: var(--lb-space-1);
    border-block-end: 1px solid var(--lb-line);
  }
  .versions {
    gap: 0;
  }
  .version {
    display: grid;
    grid-template-columns: 76px minmax(0, 1fr);
    gap: var(--lb-space-1) var(--lb-space-3);
    padding: var(--lb-space-2) 0;
    border-block-end: 1px solid var(--lb-line);
  }
  .version:last-child {
    border-block-end: 0;
  }
  .thumb {
    grid-row: 1 / span 2;
    width: 76px;
    height: 92px;
    min-height: 0;
    padding: 3px;
    align-self: start;
    background: var(--lb-surface);
  }
  .thumb lb-version-picture {
    width: 100%;
    height: 100%;
  }
  .about {
    min-width: 0;
    overflow-wrap: anywhere;
  }
  .about b {
    display: block;
  }
  .version .actions {
    gap: var(--lb-space-1);
    align-self: end;
  }
  .version .actions button {
    min-height: 30px;
    padding: 0 var(--lb-space-2);
    font-size: var(--lb-size-small);
  }
  .pick {
    display: inline-flex;
    align-items: center;
    gap: var(--lb-space-1);
    min-height: 30px;
    font-size: var(--lb-size-small);
  }
  .pick input {
    width: 24px;
    height: 24px;
    min-height: 0;
    margin: 0;
    accent-color: var(--lb-accent);
  }
  .renaming {
    grid-column: 1 / -1;
  }
  div.renaming {
    display: grid;
    gap: var(--lb-space-2);
    padding-block: var(--lb-space-2);
  }
  .comparing {
    position: sticky;
    inset-block-end: 0;
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-2);
    align-items: center;
    padding: var(--lb-space-2) var(--lb-space-3);
    border: 1px solid var(--lb-line-strong);
    border-radius: var(--lb-radius);
    background: var(--lb-page);
    box-shadow: var(--lb-shadow);
  }
`;

export const visitStyles = css`
  :host {
    display: grid;
    gap: var(--lb-space-2);
    padding-block-start: var(--lb-space-2);
  }
  .visits {
    display: grid;
    gap: var(--lb-space-3);
    margin: 0;
    padding: 0;
    list-style: none;
  }
  li {
    display: grid;
    gap: var(--lb-space-1);
    justify-items: start;
    overflow-wrap: anywhere;
  }
  .about {
    display: grid;
  }
  .kept {
    font-weight: 600;
  }
  .bottom .actions {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-2);
  }
`;

export const viewStyles = css`
  :host {
    display: contents;
  }
  dialog {
    width: min(1100px, 100vw - 2 * var(--lb-space-3));
    height: min(860px, 100dvh - 2 * var(--lb-space-3));
    max-width: none;
    max-height: none;
    padding: 0;
    border: 1px solid var(--lb-line-strong);
    border-radius: var(--lb-radius);
    background: var(--lb-page);
    color: var(--lb-text);
    overflow: hidden;
  }
  dialog::backdrop {
    background: rgb(0 0 0 / 45%);
  }
  .frame {
    display: grid;
    grid-template-rows: auto minmax(0, 1fr) auto;
    height: 100%;
  }
  .top {
    display: flex;
    justify-content: space-between;
    align-items: start;
    gap: var(--lb-space-3);
    padding: var(--lb-space-3) var(--lb-space-4);
    border-block-end: 1px solid var(--lb-line);
  }
  .top h2 {
    overflow-wrap: anywhere;
  }
  .top button {
    flex: none;
  }
  .both {
    min-height: 0;
    overflow: auto;
    padding: var(--lb-space-3);
  }
  .pictures {
    display: grid;
    grid-auto-flow: column;
    grid-auto-columns: minmax(0, 1fr);
    min-height: 0;
    background: var(--lb-surface);
  }
  figure {
    display: grid;
    grid-template-rows: auto minmax(0, 1fr);
    gap: var(--lb-space-2);
    margin: 0;
    padding: var(--lb-space-3);
    min-width: 0;
    min-height: 0;
  }
  figure + figure {
    border-inline-start: 1px solid var(--lb-line);
  }
  figcaption {
    text-align: center;
    overflow-wrap: anywhere;
  }
  figure lb-version-picture {
    min-height: 0;
  }
  .bottom {
    display: grid;
    gap: var(--lb-space-2);
    padding: var(--lb-space-3) var(--lb-space-4);
    border-block-start: 1px solid var(--lb-line);
  }
  .player {
    display: grid;
    grid-template-columns: auto minmax(0, 1fr) auto;
    gap: var(--lb-space-3);
    align-items: center;
  }
  .player input {
    width: 100%;
    padding: 0;
    accent-color: var(--lb-accent);
  }
  .steps {
    display: flex;
    gap: var(--lb-space-1);
  }
  .turns:dir(rtl) {
    transform: scaleX(-1);
  }
  @media (max-width: 600px) {
    dialog {
      width: 100vw;
      height: 100dvh;
      border: 0;
      border-radius: 0;
    }
    .player {
      grid-template-columns: minmax(0, 1fr) auto;
    }
    .player input {
      grid-column: 1 / -1;
      grid-row: 1;
    }
  }
`;
