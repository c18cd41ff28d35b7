import { css } from 'lit';
import { folded, unfolded } from '../styles/index.ts';

export const boardPageStyles = css`
  :host {
    display: flex;
    flex-direction: column;
    height: 100dvh;
  }
  .title {
    flex: 1 1 12ch;
    min-width: 0;
    font-size: var(--lb-size-lead);
    font-weight: 650;
  }
  /* Until its field is fetched: as large, so that nothing moves when it comes. */
  .title:not(:defined) {
    display: block;
    padding: 1px calc(var(--lb-space-2) + 1px);
    line-height: calc(var(--lb-target) - 2px);
    overflow: hidden;
    white-space: nowrap;
    text-overflow: ellipsis;
  }
  .title::part(field) {
    border-color: transparent;
    background: transparent;
    text-overflow: ellipsis;
  }
  .title::part(field):hover:not(:disabled) {
    border-color: var(--lb-line);
  }
  .title::part(field):disabled {
    color: var(--lb-text);
    opacity: 1;
  }
  main {
    flex: 1;
    /* Room for the tools, a strip of the board and its colours, in a low window too. */
    min-height: 360px;
    display: grid;
    grid-template-columns: minmax(0, 1fr) clamp(430px, 32vw, 600px);
  }
  .notices {
    flex: none;
  }
  .notices .notice {
    border-block: 1px solid var(--lb-line);
    border-block-end: 0;
    gap: var(--lb-space-1) var(--lb-space-3);
    padding-block: var(--lb-space-1);
    font-size: var(--lb-size-small);
  }
  .notice :is(button, a, select) {
    pointer-events: auto;
  }
  aside {
    display: flex;
    flex-direction: column;
    min-height: 0;
    overflow: hidden;
    border-inline-start: 1px solid var(--lb-line);
    min-width: 0;
  }
  /* Names of buttons give way to their icons; they are still spoken. */
  @media (max-width: 1100px) {
    .actions .name {
      position: absolute;
      width: 1px;
      height: 1px;
      overflow: hidden;
      clip-path: inset(50%);
      white-space: nowrap;
    }
  }
  ${unfolded}
  /* One row, always of one height: the board needs it, and stays where it is. */
  header {
    flex-wrap: nowrap;
  }
  .saved {
    overflow: hidden;
    white-space: nowrap;
    text-overflow: ellipsis;
  }
  .actions {
    flex: none;
    flex-wrap: nowrap;
  }
  @media (max-width: 860px) {
    ${folded}
    header {
      gap: var(--lb-space-1) 2px;
      padding: var(--lb-space-1) var(--lb-space-2);
    }
    header .button,
    .actions > button {
      min-width: 40px;
      padding: 0;
      border-color: transparent;
      background: transparent;
    }
    .title {
      flex-basis: 4em;
      font-size: var(--lb-size-body);
    }
    .title::part(field) {
      padding-inline: 4px;
    }
    .title:not(:defined) {
      padding-inline: 5px;
    }
    .actions {
      flex-wrap: nowrap;
      gap: 0;
    }
    .folded .name {
      position: static;
      width: auto;
      height: auto;
      clip-path: none;
    }
    .folded:popover-open {
      display: grid;
      min-width: 200px;
    }
    header .folded > :is(button, .button) {
      justify-content: start;
      min-height: 44px;
      padding: 0 var(--lb-space-3);
      border-color: transparent;
      background: transparent;
    }
    /* Its sign alone says how it stands; what is not well is said over the board. */
    .saved {
      font-size: 0;
      &::before {
        font-size: var(--lb-size-body);
      }
    }
  }
  @media (max-width: 860px) {
    /* The panels are a sheet over a board that stays in sight. */
    main {
      position: relative;
      display: flex;
      flex-direction: column;
      min-height: 0;
    }
    lb-board {
      flex: 1;
    }
    aside {
      display: contents;
    }
    /* One thing at a time lies over the board's lower edge. */
    lb-board:has(.notice, lb-name-box) lb-begin {
      display: none;
    }
  }
`;
