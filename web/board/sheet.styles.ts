import { css } from 'lit';

/** What lies over the board: a quiet card. */
export const sheetStyles = css`
  dialog {
    width: min(560px, calc(100vw - 24px));
    max-height: min(640px, calc(100dvh - 48px));
    padding: 0;
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    background: var(--lb-surface);
    color: var(--lb-text);
    box-shadow: var(--lb-shadow);
  }
  dialog::backdrop {
    background: rgb(20 14 10 / 35%);
  }
  header {
    position: sticky;
    inset-block-start: 0;
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
    padding: var(--lb-space-3) var(--lb-space-4);
    border-block-end: 1px solid var(--lb-line);
    background: var(--lb-surface);
  }
  header h2 {
    flex: 1;
  }
  kbd {
    padding: 1px 6px;
    border: 1px solid var(--lb-line);
    border-radius: 4px;
    background: var(--lb-sunken);
    font: inherit;
    font-size: var(--lb-size-small);
    white-space: nowrap;
  }
`;
