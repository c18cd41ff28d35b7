/** The set hangs on rails on the left; what is said of the chosen keychain stands beside it, or below where there is less room. */
import { css } from 'lit';

export const setPageStyles = css`
  :host {
    display: flex;
    flex-direction: column;
    min-height: 100dvh;
  }
  h1 {
    flex: 1 1 12ch;
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 var(--lb-space-3);
    min-width: 0;
    font-size: var(--lb-size-lead);
    overflow-wrap: anywhere;
  }
  h1 .board {
    color: var(--lb-text-quiet);
    font-size: var(--lb-size-body);
    font-weight: 400;
  }
  .choices,
  .add {
    display: flex;
    flex-wrap: wrap;
    gap: var(--lb-space-1);
  }
  .over {
    position: relative;
    z-index: 2;
  }
  main {
    flex: 1;
    display: grid;
    grid-template-columns: minmax(0, 1fr) clamp(360px, 31vw, 480px);
    grid-template-rows: auto 1fr;
    min-width: 0;
  }
  .gallery {
    display: grid;
    align-content: start;
    gap: var(--lb-space-4);
    padding: var(--lb-space-4);
    min-width: 0;
  }
  lb-set-editor {
    grid-row: 1 / 3;
    grid-column: 2;
    position: sticky;
    inset-block-start: 0;
    max-height: 100dvh;
    overflow-y: auto;
    border-inline-start: 1px solid var(--lb-line);
    background: var(--lb-page);
  }
  lb-set-editor:focus-visible {
    outline-offset: -3px;
  }
  lb-set-shopping {
    padding: var(--lb-space-4);
    border-block-start: 1px solid var(--lb-line);
    min-width: 0;
  }
  .bar {
    display: flex;
    flex-wrap: wrap;
    align-items: end;
    gap: var(--lb-space-3) var(--lb-space-4);
  }
  .bar > :first-child {
    display: flex;
    flex: 1 1 100%;
    flex-wrap: wrap;
    align-items: baseline;
    gap: var(--lb-space-1) var(--lb-space-4);
  }
  .bar > .add {
    margin-inline-start: auto;
  }
  .bar .field {
    display: flex;
    align-items: center;
    gap: var(--lb-space-2);
    font-size: var(--lb-size-small);
  }
  .bar select {
    max-width: 15em;
  }
  .hint {
    max-width: 60ch;
    justify-self: center;
    text-align: center;
  }

  /* The fewer hang there, the larger they are. */
  [role='tablist'] {
    --tall: 300px;
    --wide: 128px;
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(var(--wide), 1fr));
    gap: var(--lb-space-5) 0;
  }
  [role='tablist'][data-size='some'] {
    --tall: 380px;
    --wide: 150px;
  }
  [role='tablist'][data-size='few'] {
    --tall: clamp(360px, 58dvh, 620px);
    --wide: 150px;
    grid-template-columns: repeat(auto-fit, minmax(var(--wide), 1fr));
  }
  .keychain {
    position: relative;
    display: flex;
    flex-direction: column;
    align-items: center;
    justify-content: start;
    gap: 2px;
    min-width: 0;
    padding: var(--lb-space-2) var(--lb-space-2) var(--lb-space-3);
    border: 0;
    border-radius: 0 0 var(--lb-radius) var(--lb-radius);
    background: transparent;
    text-align: center;
    overflow-wrap: anywhere;
  }
  /* The rail: a rod that goes on behind the hooks of a whole row. */
  .keychain::before {
    content: '';
    position: absolute;
    inset-block-start: 0;
    inset-inline: 0;
    height: 8px;
    border-radius: 2px;
    background: linear-gradient(#f0ece4, #c3beb5 35%, #8f8b84 70%, #5f5c57);
  }
  /* The hook from which it hangs. */
  .keychain::after {
    content: '';
    position: absolute;
    inset-block-start: 2px;
    width: 12px;
    height: 22px;
    border: 3px solid #8f8b84;
    border-radius: 8px;
  }
  .keychain lb-keychain {
    width: 100%;
    height: var(--tall);
    margin-block-start: 10px;
  }
  .keychain:hover {
    background: var(--lb-sunken);
  }
  .keychain[aria-selected='true'] {
    background: var(--lb-surface);
    box-shadow:
      inset 0 0 0 2px var(--lb-accent),
      var(--lb-shadow);
  }
  .keychain:focus-visible {
    outline-offset: -5px;
  }
  .name {
    font-weight: 650;
  }
  .whose {
    display: inline-flex;
    align-items: center;
    gap: var(--lb-space-1);
    color: var(--lb-text-quiet);
    font-size: var(--lb-size-small);
  }
  .mine .whose {
    color: var(--lb-accent);
    font-weight: 600;
  }
  .dot {
    width: 10px;
    height: 10px;
    border-radius: 50%;
    background: var(--who);
    border: 1px solid var(--lb-line-strong);
    forced-color-adjust: none;
  }
  .marks {
    display: flex;
    flex-wrap: wrap;
    justify-content: center;
    gap: 2px var(--lb-space-1);
    margin-block-start: var(--lb-space-1);
  }
  .mark {
    padding: 0 var(--lb-space-2);
    border: 1px solid var(--lb-line-strong);
    border-radius: 99px;
    background: var(--lb-page);
    font-size: var(--lb-size-small);
    line-height: 1.5;
  }
  .mark.good {
    border-color: transparent;
    background: transparent;
    color: var(--lb-good);
    font-weight: 600;
  }
  .mark.good::before {
    content: '✓ ';
  }
  .mark.warn {
    border-color: var(--lb-warn);
    color: var(--lb-warn);
    font-weight: 600;
  }

  @media (max-width: 900px) {
    main {
      display: flex;
      flex-direction: column;
    }
    lb-set-editor {
      position: static;
      max-height: none;
      overflow: visible;
      border-inline-start: 0;
      border-block-start: 1px solid var(--lb-line);
    }
  }
  /* On a phone the keychains hang on one long rail that is drawn along by the finger. */
  @media (max-width: 600px) {
    .gallery {
      padding: var(--lb-space-3) 0 0;
      gap: var(--lb-space-3);
    }
    .bar {
      padding-inline: var(--lb-space-3);
    }
    [role='tablist'],
    [role='tablist'][data-size] {
      --tall: 290px;
      --wide: 124px;
      display: flex;
      gap: 0;
      overflow-x: auto;
      scroll-snap-type: x proximity;
      scrollbar-width: thin;
    }
    .keychain {
      flex: none;
      width: 132px;
      scroll-snap-align: center;
    }
    lb-set-shopping {
      padding: var(--lb-space-3);
    }
  }
  @media (forced-colors: active) {
    /* The threads' own colours stay to be seen, so the chosen one has a frame instead of a ground. */
    [role='tablist'] .keychain[role='tab'][aria-selected='true'] {
      forced-color-adjust: auto;
      background: Canvas !important;
      color: CanvasText !important;
      outline: 4px solid Highlight;
      outline-offset: -4px;
      box-shadow: none;
    }
    [role='tablist'] .keychain[role='tab']:focus-visible {
      outline: 4px double CanvasText;
    }
    .keychain::before {
      border-block-start: 8px solid CanvasText;
    }
  }
  @media print {
    header,
    .notice,
    .gallery,
    lb-set-editor {
      display: none;
    }
    main {
      display: block;
    }
    lb-set-shopping {
      border: 0;
      padding: 0;
    }
  }
`;
