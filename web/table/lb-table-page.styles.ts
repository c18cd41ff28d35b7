/**
 * A phone propped against a cup: what is said above, half the screen for the two large buttons below; held across, beside each other.
 * The buttons have their places from the size of the screen alone, so that nothing said or drawn moves them.
 */
import { css } from 'lit';

export const tablePageStyles = css`
  :host {
    display: block;
    min-height: 100dvh;
  }
  .at-table {
    display: grid;
    grid-template: auto auto minmax(0, 1fr) 50dvh / minmax(0, 1fr);
    height: 100dvh;
    overflow: hidden;
  }
  header {
    flex-wrap: nowrap;
    min-height: 48px;
    padding-block: 2px;
  }
  h1 {
    flex: 1;
    min-width: 0;
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
    font-size: var(--lb-size-lead);
  }
  nav.stages {
    display: grid;
    grid-template-columns: repeat(4, minmax(0, 1fr));
    gap: 2px;
    padding: 2px var(--lb-space-2);
  }
  nav.stages button {
    min-height: 40px;
    padding: 0 2px;
    border-color: transparent;
    background: transparent;
  }
  nav.stages button[aria-current='step'] {
    border-color: var(--lb-accent);
    font-weight: 700;
  }
  main.stage {
    display: grid;
    min-height: 0;
    padding: var(--lb-space-1) var(--lb-space-3) var(--lb-space-2);
    overflow: hidden;
  }
  .pads {
    display: grid;
    grid-template-columns: 1fr 3fr;
    gap: var(--lb-space-2);
    padding: var(--lb-space-2);
    border-block-start: 1px solid var(--lb-line);
    touch-action: none;
    user-select: none;
    -webkit-user-select: none;
    -webkit-touch-callout: none;
    -webkit-tap-highlight-color: transparent;
  }
  .pads button {
    min-width: 0;
    padding: 0 2px;
    height: 100%;
    border-radius: var(--lb-radius);
    touch-action: none;
    font-size: 1rem;
    font-weight: 700;
    overflow-wrap: anywhere;
  }
  .pads .on {
    font-size: var(--lb-size-title);
  }
  .notices {
    position: fixed;
    inset-block-start: 52px;
    inset-inline: var(--lb-space-2);
    z-index: 10;
    display: grid;
    gap: var(--lb-space-1);
    box-shadow: var(--lb-shadow);
  }
  .list {
    display: grid;
    align-content: start;
    gap: var(--lb-space-4);
    max-width: 40rem;
    margin-inline: auto;
    padding: var(--lb-space-4);
  }
  .list ul {
    display: grid;
    gap: var(--lb-space-2);
    margin: 0;
    padding: 0;
    list-style: none;
  }
  .list li {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto;
    gap: var(--lb-space-2);
  }
  .list li > button {
    min-height: 56px;
  }
  .list .go {
    justify-content: start;
    flex-wrap: wrap;
    text-align: start;
    overflow-wrap: anywhere;
  }
  form {
    display: grid;
    gap: var(--lb-space-2);
  }
  form input,
  form button {
    min-height: 48px;
  }
  .settings {
    margin: auto;
    display: none;
    grid-template-columns: minmax(0, 1fr);
    gap: var(--lb-space-3);
    width: min(92vw, 24rem);
    max-height: 94dvh;
    overflow: auto;
    padding: var(--lb-space-4);
    border: 1px solid var(--lb-line-strong);
    border-radius: var(--lb-radius);
    background: var(--lb-surface);
    color: var(--lb-text);
  }
  .settings:popover-open {
    display: grid;
  }
  .settings label {
    display: grid;
    gap: var(--lb-space-1);
  }
  .settings select {
    width: 100%;
  }
  .settings .box {
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
    min-height: 44px;
  }
  @media (orientation: landscape) {
    .at-table {
      grid-template: auto auto minmax(0, 1fr) / minmax(0, 1fr) 50vw;
    }
    .pads {
      grid-area: 1 / 2 / 4 / 3;
      border-block-start: 0;
      border-inline-start: 1px solid var(--lb-line);
    }
    .notices {
      inset-inline-end: calc(50vw + var(--lb-space-2));
    }
  }
  @media (max-height: 480px) {
    header {
      min-height: 40px;
    }
    nav.stages button {
      min-height: 32px;
    }
  }
  /* Half of a phone whose other half shows something else. */
  @media (orientation: portrait) and (max-height: 480px) {
    .at-table {
      grid-template-rows: auto auto minmax(0, 1fr) 38dvh;
    }
  }
`;
