import { css } from 'lit';
import { folded, unfolded } from '../styles/index.ts';

export const boardStyles = css`
  :host {
    --tool: 40px;
    container: board / inline-size;
    display: block;
    min-height: 0;
    min-width: 0;
    background: var(--lb-surface);
  }
  .frame {
    position: relative;
    display: grid;
    grid-template: 'tools view' auto 'tools boards' minmax(0, 1fr) 'tools colours' auto / auto minmax(0, 1fr);
    height: 100%;
  }
  .tools {
    grid-area: tools;
    display: flex;
    flex-direction: column;
    gap: var(--lb-space-3);
    padding: var(--lb-space-2);
    overflow-y: auto;
    scrollbar-width: none;
    border-inline-end: 1px solid var(--lb-line);
  }
  .group {
    display: flex;
    flex-direction: column;
    gap: 2px;
  }
  .group + .group {
    padding-block-start: var(--lb-space-3);
    border-block-start: 1px solid var(--lb-line);
  }
  .tool {
    width: var(--tool);
    height: var(--tool);
    min-width: var(--tool);
    min-height: var(--tool);
    padding: 0;
    border-color: transparent;
    background: transparent;
    color: var(--lb-text);
  }
  .tool:hover:not(:disabled) {
    background: var(--lb-sunken);
    border-color: transparent;
  }
  .tool[aria-pressed='true'],
  .tool[aria-pressed='true']:hover:not(:disabled) {
    background: var(--lb-accent);
    color: var(--lb-on-accent);
  }
  .tool .name,
  .now,
  .finger,
  .panels {
    display: none;
  }
  .finger {
    width: var(--tool);
    min-width: 0;
    padding: 0;
    white-space: normal;
    font-size: 0.625rem;
    line-height: 1.1;
  }
  @media (any-pointer: coarse) {
    .finger {
      display: inline-flex;
      flex: none;
    }
  }
  ${unfolded}
  .view {
    grid-area: view;
    display: flex;
    align-items: center;
    justify-content: space-between;
    gap: 2px var(--lb-space-2);
    padding: 4px var(--lb-space-2);
    overflow-x: auto;
    scrollbar-width: none;
  }
  .view > *,
  .colours > :not(.swatches) {
    flex: none;
  }
  .looks,
  .zoom {
    display: flex;
    align-items: center;
    gap: 2px;
  }
  .looks button:not(.tool) {
    min-height: 32px;
    padding: 0 var(--lb-space-3);
    border-color: transparent;
    background: transparent;
    color: var(--lb-text-quiet);
    font-size: var(--lb-size-small);
    font-weight: 600;
  }
  .looks button:not(.tool):hover {
    color: var(--lb-text);
    background: var(--lb-sunken);
  }
  .looks button:not(.tool)[aria-pressed='true'] {
    background: var(--lb-sunken);
    color: var(--lb-text);
    box-shadow: inset 0 -2px 0 var(--lb-accent);
  }
  .view .tool {
    --tool: 34px;
  }
  .boards {
    grid-area: boards;
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    min-height: 0;
  }
  .boards.beside {
    grid-template-columns: minmax(0, 3fr) minmax(0, 2fr);
  }
  .boards.beside :is(lb-finished, lb-second-look) {
    border-inline-start: 1px solid var(--lb-line);
  }
  /* What lies over the board without moving it; what is under it can be tied through it. */
  .over {
    grid-area: boards;
    position: relative;
    z-index: 2;
    pointer-events: none;
  }
  /* What is said stands at its lower edge, one under the other. */
  .low {
    position: absolute;
    inset: auto 0 0;
    display: flex;
    flex-direction: column;
    max-height: 70%;
    overflow-y: auto;
    scrollbar-width: thin;
  }
  .stage {
    position: relative;
    min-height: 220px;
    overflow: hidden;
    touch-action: none;
    user-select: none;
    -webkit-user-select: none;
    -webkit-touch-callout: none;
    cursor: crosshair;
  }
  .stage.tool-pan {
    cursor: grab;
  }
  .stage.tool-pan:active {
    cursor: grabbing;
  }
  .stage.tool-trace,
  .stage.tool-pick {
    cursor: pointer;
  }
  canvas {
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    pointer-events: none;
  }
  .grid {
    position: absolute;
    inset: 0;
    pointer-events: none;
  }
  .grid [role='row'],
  .grid [role='gridcell'] {
    position: absolute;
    inset: 0;
  }
  .grid [role='gridcell']:focus-visible {
    outline: 2px solid var(--lb-accent);
    outline-offset: -3px;
    border-radius: var(--lb-radius-small);
  }
  .empty {
    position: absolute;
    inset: 0;
    display: grid;
    place-content: center;
    justify-items: center;
    gap: var(--lb-space-3);
    padding: var(--lb-space-5);
    text-align: center;
    color: var(--lb-text-quiet);
  }
  .colours {
    grid-area: colours;
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
    padding: var(--lb-space-1) var(--lb-space-2);
    border-block-start: 1px solid var(--lb-line);
  }
  .swatches {
    display: flex;
    gap: 2px;
    min-width: 36px;
    overflow-x: auto;
    scrollbar-width: none;
  }
  .swatch-button {
    flex: none;
    width: 36px;
    height: 36px;
    min-width: 36px;
    min-height: 36px;
    padding: 0;
    border-color: transparent;
    background: transparent;
    border-radius: 50%;
  }
  .swatch-button span {
    width: 24px;
    height: 24px;
    border-radius: 50%;
    border: 1px solid var(--lb-line-strong);
  }
  .swatch-button[aria-pressed='true'] {
    background: transparent;
    border: 2px solid var(--lb-accent);
  }
  .places {
    min-height: 34px;
    font-size: var(--lb-size-small);
  }
  .notice {
    position: absolute;
    inset-inline: 64px 16px;
    inset-block-end: 60px;
    width: fit-content;
    max-width: min(46ch, calc(100% - 80px));
    margin-inline: auto;
    padding: var(--lb-space-2) var(--lb-space-3);
    border-radius: var(--lb-radius);
    background: var(--lb-text);
    color: var(--lb-surface);
    font-size: var(--lb-size-small);
    box-shadow: var(--lb-shadow);
    pointer-events: none;
  }
  .notice:empty {
    display: none;
  }
  /* Where the column of tools would not be in sight whole: smaller tools, then some behind one button. */
  @media (max-height: 860px) {
    .tools {
      --tool: 34px;
    }
  }
  @media (max-height: 740px), (max-width: 860px) and (max-height: 960px) {
    ${folded}
    .folded:popover-open {
      --tool: 46px;
      width: calc(4 * 46px + 3 * 2px + 2 * var(--lb-space-2) + 2px);
    }
    .folded .group {
      flex-direction: row;
      padding: 0;
      border: 0;
    }
  }
  /* A corner, as of a pile: there is more below it. */
  .corner {
    position: absolute;
    inset: auto 5px 5px auto;
    border: 4px solid;
    border-block-start-color: transparent;
    border-inline-start-color: transparent;
    forced-color-adjust: none;
  }
  .tool.more {
    position: relative;
    background: var(--lb-sunken);
  }
  @container board (max-width: 440px) {
    .view [data-action='true-shape'] {
      display: none;
    }
  }
  @container board (max-width: 640px) {
    .frame {
      grid-template: 'view' auto 'boards' minmax(0, 1fr) 'colours' auto 'tools' auto / minmax(0, 1fr);
    }
    ${folded}
    .tools {
      flex-direction: row;
      justify-content: space-between;
      gap: 2px;
      padding: var(--lb-space-1) var(--lb-space-2);
      overflow: hidden;
      border-inline-end: 0;
      border-block-start: 1px solid var(--lb-line);
    }
    .group {
      flex-direction: row;
    }
    .group + .group {
      padding: 0;
      border: 0;
    }
    .folded:popover-open {
      --tool: 46px;
      width: calc(4 * 46px + 3 * 2px + 2 * var(--lb-space-2) + 2px);
    }
    .tools {
      --tool: 40px;
    }
    .notice {
      inset-inline: 12px;
      inset-block-end: 112px;
      max-width: calc(100% - 24px);
    }
    .looks button:not(.tool) {
      padding: 0 var(--lb-space-2);
    }
    .boards.beside {
      grid-template: minmax(0, 3fr) minmax(0, 2fr) / minmax(0, 1fr);
    }
    .boards.beside :is(lb-finished, lb-second-look) {
      border-inline-start: 0;
      border-block-start: 1px solid var(--lb-line);
    }
  }
  @media (max-width: 860px) {
    .stage {
      min-height: 0;
    }
    .panels {
      display: inline-flex;
      margin-inline-start: auto;
    }
  }
  /* A phone: one row, or one column where it is turned; what has no room there stands in the sheet of tools, by name. */
  @media (max-width: 640px), (max-width: 860px) and (max-height: 500px) {
    ${folded}
    .frame {
      grid-template: 'boards boards' minmax(0, 1fr) 'tools colours' auto / auto minmax(0, 1fr);
    }
    .view {
      display: none;
    }
    .tools {
      max-width: 62vw;
      padding-inline-end: 0;
      overflow-x: auto;
      border-block-start: 1px solid var(--lb-line);
    }
    .tools > button {
      flex: none;
    }
    .finger {
      width: 56px;
      font-size: 0.75rem;
    }
    .tool.more {
      width: auto;
      max-width: 9.75rem;
      padding: 0 var(--lb-space-3) 0 var(--lb-space-1);
    }
    .now {
      display: -webkit-box;
      overflow: hidden;
      -webkit-box-orient: vertical;
      -webkit-line-clamp: 2;
      font-size: 0.75rem;
      line-height: 1.1;
      text-align: start;
      white-space: normal;
      hyphens: auto;
    }
    .colours {
      min-width: 0;
      height: calc(40px + 2 * var(--lb-space-1) + 1px);
    }
    .colours > [data-action='swap'] {
      display: none;
    }
    .colours > .places {
      flex: 0 1 auto;
      min-width: 3rem;
      max-width: 100%;
    }
    .panels {
      padding: 0 var(--lb-space-2);
    }
    .notice {
      inset-block-end: 60px;
    }
  }
  @media (min-width: 641px) and (max-width: 860px) and (max-height: 500px) {
    .frame {
      grid-template: 'tools boards' auto 'colours boards' minmax(0, 1fr) / 100px minmax(0, 1fr);
    }
    .tools,
    .colours,
    .swatches {
      flex-direction: column;
      align-items: center;
    }
    .tools {
      max-width: none;
      padding: var(--lb-space-1);
      border-block-start: 0;
      border-inline-end: 1px solid var(--lb-line);
    }
    .tool.more,
    .finger {
      width: 92px;
      padding: 0 2px;
      white-space: normal;
    }
    .tool.more {
      flex-direction: column;
      gap: 0;
      height: auto;
      max-height: 84px;
    }
    .now {
      font-size: 0.6875rem;
      text-align: center;
    }
    .colours {
      height: auto;
      min-height: 0;
      border-block-start: 0;
      border-inline-end: 1px solid var(--lb-line);
    }
    .swatches {
      min-height: 36px;
      overflow: hidden auto;
    }
    .panels {
      margin-block-start: auto;
      margin-inline: 0;
    }
  }
`;
