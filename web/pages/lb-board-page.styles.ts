import { css } from 'lit';
import { folded, unfolded } from '../styles/folded.ts';

export const boardPageStyles = css`
  :host {
    display: flex;
    flex-direction: column;
    height: 100dvh;
  }
  header {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--lb-space-2) var(--lb-space-3);
    padding: var(--lb-space-2) var(--lb-space-3);
    border-block-end: 1px solid var(--lb-line);
    background: var(--lb-page);
  }
  .title {
    flex: 1 1 12ch;
    min-width: 0;
    border-color: transparent;
    background: transparent;
    font-size: var(--lb-size-lead);
    font-weight: 650;
    text-overflow: ellipsis;
  }
  .title:hover:not(:disabled) {
    border-color: var(--lb-line);
  }
  .title:disabled {
    color: var(--lb-text);
    opacity: 1;
  }
  .saved {
    font-size: var(--lb-size-small);
    color: var(--lb-text-quiet);
  }
  .saved[data-state='saved']::before {
    content: '✓ ';
    color: var(--lb-good);
  }
  .saved[data-state='saving']::before {
    content: '… ';
  }
  .saved[data-state='viewing']::before {
    content: '◦ ';
  }
  /* A line under all others, over the whole width: quiet, but not to be missed. */
  .saved[data-state='offline'],
  .saved[data-state='read-only'] {
    order: 1;
    flex-basis: 100%;
    padding: var(--lb-space-1) var(--lb-space-3);
    border-inline-start: 4px solid var(--lb-warn);
    border-radius: var(--lb-radius-small);
    background: var(--lb-sunken);
    color: var(--lb-warn);
    font-weight: 600;
  }
  .people {
    display: inline-flex;
  }
  .person {
    display: inline-grid;
    place-items: center;
    width: 28px;
    height: 28px;
    margin-inline-start: -6px;
    border: 2px solid var(--lb-page);
    border-radius: 50%;
    background: var(--who);
    color: #fff;
    font-size: 13px;
    font-weight: 700;
    text-shadow: 0 0 2px #000;
  }
  .actions {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-1);
  }
  .notice {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--lb-space-3);
    padding: var(--lb-space-2) var(--lb-space-4);
    background: var(--lb-sunken);
    border-block-end: 1px solid var(--lb-line);
  }
  main {
    flex: 1;
    min-height: 0;
    display: grid;
    grid-template-columns: minmax(0, 1fr) clamp(380px, 21vw, 500px);
  }
  aside {
    overflow-y: auto;
    border-inline-start: 1px solid var(--lb-line);
    min-width: 0;
  }
  .icon.turns:dir(rtl) {
    transform: scaleX(-1);
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
  /* One row on a phone: the board needs the height. */
  @media (max-width: 600px) {
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
      padding-inline: 4px;
      font-size: var(--lb-size-body);
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
    /* Its sign alone says that all is well. What is not well has a line of its own. */
    .saved:not([data-state='offline'], [data-state='read-only']) {
      font-size: 0;
      &::before {
        font-size: var(--lb-size-body);
      }
    }
  }
  @media (max-width: 860px) {
    :host {
      height: auto;
      min-height: 100dvh;
    }
    main {
      display: flex;
      flex-direction: column;
    }
    lb-board {
      height: 72dvh;
    }
    aside {
      border-inline-start: 0;
      border-block-start: 1px solid var(--lb-line);
      overflow: visible;
    }
  }
`;
