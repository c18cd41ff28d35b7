import { css } from 'lit';

export const boardStyles = css`
  :host {
    display: flex;
    flex-direction: column;
    min-height: 0;
    min-width: 0;
    background: var(--lb-surface);
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-2) var(--lb-space-3);
    padding: var(--lb-space-2) var(--lb-space-3);
    border-block-end: 1px solid var(--lb-line);
    position: relative;
    z-index: 1;
  }
  .group {
    display: flex;
    gap: var(--lb-space-1);
  }
  .group button {
    padding: 0 var(--lb-space-2);
  }
  .more {
    position: relative;
  }
  .more summary {
    min-height: var(--lb-target);
    padding: 0 var(--lb-space-3);
    line-height: calc(var(--lb-target) - 2px);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius-small);
    cursor: pointer;
  }
  .menu {
    position: absolute;
    inset-inline-start: 0;
    inset-block-start: calc(100% + 4px);
    display: grid;
    gap: var(--lb-space-1);
    width: 220px;
    padding: var(--lb-space-2);
    border: 1px solid var(--lb-line);
    border-radius: var(--lb-radius);
    background: var(--lb-surface);
    box-shadow: var(--lb-shadow);
    z-index: 2;
  }
  .stage {
    position: relative;
    flex: 1;
    min-height: 240px;
    overflow: hidden;
    touch-action: none;
    cursor: crosshair;
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
  }
`;
