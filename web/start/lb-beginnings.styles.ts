import { css } from 'lit';

export const beginningsStyles = css`
  :host {
    display: grid;
    gap: var(--lb-space-3);
    min-width: 0;
  }
  .choices,
  .actions,
  .steps {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--lb-space-2);
  }
  .choices {
    justify-content: space-between;
  }
  .bar {
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
  }
  .figures {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(140px, 1fr));
    gap: var(--lb-space-3);
    margin: 0;
    padding: 0;
    list-style: none;
  }
  .figure {
    display: block;
    width: 100%;
    height: 100%;
    padding: var(--lb-space-2);
  }
  .figure[aria-pressed='true'],
  .figure[aria-pressed='true']:hover:not(:disabled) {
    background: var(--lb-surface);
    color: var(--lb-text);
    border-color: var(--lb-accent);
    box-shadow: inset 0 0 0 2px var(--lb-accent);
  }
  .hand {
    display: grid;
    grid-template-columns: minmax(120px, 200px) minmax(0, 1fr);
    gap: var(--lb-space-4);
    padding: var(--lb-space-4);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    background: var(--lb-surface);
  }
  .large {
    --lb-start-picture: 320px;
  }
  .beside {
    display: grid;
    align-content: start;
    gap: var(--lb-space-3);
    min-width: 0;
  }
  h3 {
    font-size: var(--lb-size-lead);
  }
  .step {
    display: flex;
    align-items: center;
    gap: 4px;
    padding-inline-start: var(--lb-space-2);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius-small);
  }
  .step button {
    border-color: transparent;
  }
  output {
    min-width: 2ch;
    text-align: center;
    font-variant-numeric: tabular-nums;
  }
  .drawer {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(170px, 1fr));
    gap: var(--lb-space-2);
  }
  .drawer p {
    grid-column: 1 / -1;
  }
  .drawer label {
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
  }
  .drawer input {
    width: 6em;
    margin-inline-start: auto;
  }
  @media (max-width: 560px) {
    .figures {
      grid-template-columns: repeat(2, minmax(0, 1fr));
    }
    .hand {
      grid-template-columns: minmax(0, 110px) minmax(0, 1fr);
      gap: var(--lb-space-2);
      padding: var(--lb-space-2);
    }
  }
`;
