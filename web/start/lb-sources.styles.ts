import { css } from 'lit';

export const sourcesStyles = css`
  dialog {
    width: min(860px, calc(100vw - 16px));
    max-height: calc(100dvh - 16px);
    padding: var(--lb-space-4);
    overflow: auto;
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    background: var(--lb-page);
    color: var(--lb-text);
    pointer-events: auto;
  }
  dialog::backdrop {
    background: rgb(0 0 0 / 45%);
  }
  header,
  .row {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--lb-space-2);
  }
  header {
    flex-wrap: nowrap;
    justify-content: space-between;
    margin-block-end: var(--lb-space-3);
  }
  .columns {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
    gap: var(--lb-space-4);
    margin-block: var(--lb-space-3);
  }
  .asked,
  .comes {
    display: grid;
    align-content: start;
    gap: var(--lb-space-3);
    min-width: 0;
  }
  label {
    display: grid;
    gap: 2px;
  }
  input[type='number'] {
    width: 6em;
  }
  .motifs button {
    padding: 0;
  }
  .motifs svg {
    width: 26px;
    height: 30px;
  }
  .pictures {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
    gap: var(--lb-space-3);
    align-items: start;
  }
  .pictures figure {
    display: grid;
    gap: 2px;
    margin: 0;
    min-width: 0;
  }
  .wish {
    height: 300px;
    padding: var(--lb-space-2);
    border-radius: var(--lb-radius-small);
    background: var(--lb-sunken);
    /* The colours are the content. */
    forced-color-adjust: none;
  }
  .wish svg {
    width: 100%;
    height: 100%;
  }
  lb-start-card {
    --lb-start-picture: 300px;
  }
  ul {
    margin: 0;
    padding: 0;
    list-style: none;
  }
  @media (max-width: 640px) {
    .columns {
      grid-template-columns: minmax(0, 1fr);
    }
    dialog {
      padding: var(--lb-space-3);
    }
  }
`;
