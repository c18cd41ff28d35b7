/** How threads and their remarks look. */
import { css } from 'lit';

export const talkStyles = css`
  .threads {
    gap: var(--lb-space-3);
  }
  .check {
    display: inline-flex;
    gap: var(--lb-space-2);
    align-items: center;
    min-height: var(--lb-target);
  }
  .check input {
    width: 18px;
    height: 18px;
    min-height: 0;
    margin: 0;
    accent-color: var(--lb-accent);
  }
  .thread:focus-visible {
    outline-offset: -2px;
  }
  .head {
    display: flex;
    gap: var(--lb-space-2);
    align-items: center;
    justify-content: space-between;
  }
  .head h3 {
    margin: 0;
    min-width: 0;
  }
  .place {
    min-height: 28px;
    padding: 0;
    border: 0;
    background: none;
    font-weight: 650;
    text-align: start;
    text-decoration: underline;
    text-underline-offset: 3px;
  }
  .gone {
    color: var(--lb-text-quiet);
    font-style: italic;
  }
  .quiet-button {
    min-height: 28px;
    padding: 0 var(--lb-space-2);
    font-size: var(--lb-size-small);
    white-space: nowrap;
  }
  ol {
    gap: var(--lb-space-3);
  }
  .remark {
    display: grid;
    gap: 2px;
    min-width: 0;
  }
  .by {
    display: flex;
    flex-wrap: wrap;
    gap: 0 var(--lb-space-2);
    align-items: center;
  }
  .name {
    font-weight: 650;
    overflow-wrap: anywhere;
  }
  .text {
    white-space: pre-wrap;
    overflow-wrap: anywhere;
    unicode-bidi: isolate;
  }
  .mark {
    padding: 0 6px;
    border-radius: 99px;
    background: var(--lb-accent);
    color: var(--lb-on-accent);
    font-size: 0.75rem;
    line-height: 1.5;
  }
  .mark.me {
    background: var(--lb-warn);
    color: var(--lb-page);
  }
  .unsent {
    padding-inline-start: var(--lb-space-2);
    border-inline-start: 3px dashed var(--lb-warn);
  }
  .unsent-note {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-1) var(--lb-space-2);
    align-items: center;
  }
  @media (pointer: coarse) {
    .quiet-button,
    .place {
      min-height: 36px;
    }
  }
`;
