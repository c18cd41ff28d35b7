/** An element that is one canvas. */
import { css } from 'lit';

export const canvasStyles = css`
  :host {
    display: block;
    overflow: hidden;
  }
  canvas {
    display: block;
    width: 100%;
    height: 100%;
  }
`;
