import { css } from 'lit';

export const wishStyles = css`
  :host {
    position: absolute;
    inset: 0;
    z-index: 5;
    display: grid;
    grid-template: 'tools side' auto 'stage side' minmax(0, 1fr) 'colours side' auto / minmax(0, 1fr) clamp(380px, 34vw, 640px);
    min-width: 0;
    min-height: 0;
    background: var(--lb-surface);
  }
  .bar,
  .colours {
    display: flex;
    align-items: center;
    gap: 2px;
    min-width: 0;
    padding: var(--lb-space-1) var(--lb-space-2);
    overflow-x: auto;
    scrollbar-width: none;
  }
  .tools {
    grid-area: tools;
    display: flex;
    align-items: center;
    min-width: 0;
    padding-inline-end: var(--lb-space-2);
    border-block-end: 1px solid var(--lb-line);
  }
  .bar > *,
  .colours > * {
    flex: none;
  }
  .colours {
    grid-area: colours;
    border-block-start: 1px solid var(--lb-line);
  }
  .tool {
    width: 40px;
    min-width: 40px;
    min-height: 40px;
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
  .gap {
    width: var(--lb-space-3);
  }
  .bar {
    flex: 1;
  }
  .back {
    flex: none;
  }
  .sign {
    display: none;
  }
  .finger {
    display: none;
    font-size: var(--lb-size-small);
  }
  @media (any-pointer: coarse) {
    .finger {
      display: inline-flex;
    }
  }
  .swatch-button {
    width: 40px;
    height: 40px;
    min-width: 40px;
    padding: 0;
    border: 2px solid transparent;
    border-radius: 50%;
    background: transparent;
  }
  .swatch-button span {
    width: 26px;
    height: 26px;
    border: 1px solid var(--lb-line-strong);
    border-radius: 50%;
    background: var(--ink, transparent);
  }
  .swatch-button .open {
    border: 2px dashed var(--lb-line-strong);
  }
  .swatch-button[aria-pressed='true'],
  .swatch-button[aria-pressed='true']:hover:not(:disabled) {
    border-color: var(--lb-accent);
    background: transparent;
  }
  .stage {
    grid-area: stage;
    position: relative;
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
  .stage.tool-pick {
    cursor: pointer;
  }
  canvas,
  .grid,
  .grid [role='row'],
  .grid [role='gridcell'] {
    position: absolute;
    inset: 0;
    pointer-events: none;
  }
  canvas {
    width: 100%;
    height: 100%;
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
    padding: var(--lb-space-5);
    text-align: center;
  }
  .notice {
    position: absolute;
    inset: auto 0 var(--lb-space-3);
    width: fit-content;
    max-width: min(46ch, calc(100% - 2 * var(--lb-space-4)));
    margin-inline: auto;
    padding: var(--lb-space-2) var(--lb-space-3);
    border-radius: var(--lb-radius);
    background: var(--lb-text);
    color: var(--lb-surface);
    font-size: var(--lb-size-small);
    pointer-events: none;
  }
  .notice:empty {
    display: none;
  }
  .side {
    grid-area: side;
    display: grid;
    align-content: start;
    gap: var(--lb-space-3);
    min-width: 0;
    padding: var(--lb-space-4);
    overflow-y: auto;
    border-inline-start: 1px solid var(--lb-line);
  }
  .ways,
  .state {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--lb-space-2);
  }
  label {
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
    min-height: var(--lb-target);
  }
  label input {
    min-height: 0;
  }
  progress {
    width: 100%;
    accent-color: var(--lb-accent);
  }
  @media (max-width: 860px) {
    :host {
      grid-template: 'tools' auto 'stage' minmax(0, 11fr) 'colours' auto 'side' minmax(0, 9fr) / minmax(0, 1fr);
    }
    .side {
      padding: var(--lb-space-2) var(--lb-space-3);
      border-inline-start: 0;
      border-block-start: 1px solid var(--lb-line);
    }
    .back .name {
      display: none;
    }
    .back .sign {
      display: inline;
    }
    .lead {
      display: none;
    }
  }
`;
