import { css } from 'lit';

/** What stands on the tools: the key of each in its corner, where there is a keyboard to press it. */
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
`;
