import { css } from 'lit';

/** What stands on the tools once they have been seen: the key of each in its corner, where there is a keyboard to press it, or its name. */
export const toolBarStyles = css`
  .tools .tool {
    position: relative;
  }
  .tools [data-key]::after {
    content: attr(data-key);
    position: absolute;
    inset: auto 3px 1px auto;
    font: 600 10px/1.2 var(--lb-font);
    pointer-events: none;
  }
  @media (hover: none), (pointer: coarse) {
    .tools [data-key]::after {
      content: none;
    }
  }
  /* On a phone the sheet of tools names them all. */
  @media (max-width: 640px), (max-width: 860px) and (max-height: 500px) {
    .folded:popover-open {
      width: auto;
      max-height: 70dvh;
      overflow-y: auto;
      flex-direction: column;
      flex-wrap: nowrap;
    }
    .folded .group {
      display: grid;
      grid-template-columns: 1fr 1fr;
      flex: none;
    }
    .folded .tool {
      display: flex;
      justify-content: start;
      width: auto;
      height: auto;
      min-height: 44px;
      padding: 2px var(--lb-space-2);
      font-size: var(--lb-size-small);
      text-align: start;
    }
    .folded .tool svg {
      flex: none;
    }
    .folded .name {
      display: inline;
    }
  }
`;
