/** Threads to choose among, each a button of its colour. */
import { css } from 'lit';

export const threadChoice = css`
  .threads {
    display: flex;
    flex-wrap: wrap;
    gap: 4px;
  }
  .thread {
    width: 34px;
    min-width: 34px;
    min-height: 34px;
    padding: 0;
    /* The colour is the content. */
    forced-color-adjust: none;
  }
  .thread,
  .thread[aria-pressed] {
    background: var(--thread);
    border-color: var(--lb-line-strong);
  }
  .thread[aria-pressed='true'] {
    border-width: 3px;
    border-color: var(--lb-text);
    box-shadow: inset 0 0 0 2px var(--lb-surface);
  }
`;
