/** The screen for making with one strip above the work; at 390 x 400 beside a call strip, work and the large buttons fit. */
import { css } from 'lit';

export const lessonWorkStyles = css`
  .at-table {
    position: relative;
    grid-template-rows: auto auto minmax(0, 1fr) 40dvh;
  }
  .waiting {
    display: grid;
    min-height: 60dvh;
    place-content: center;
  }
  header {
    min-height: 44px;
    padding-block: 0;
  }
  .strip {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--lb-space-1) var(--lb-space-2);
    padding: var(--lb-space-1) var(--lb-space-2);
    border-block: 1px solid var(--lb-line);
    background: var(--lb-surface);
  }
  .strip p {
    flex: 1 1 9rem;
    min-width: 0;
    margin: 0;
    overflow-wrap: anywhere;
  }
  .strip button,
  .strip .button {
    min-height: 44px;
  }
  .strip .help {
    min-width: 112px;
    min-height: 52px;
    font-size: 1.125rem;
    font-weight: 700;
  }
  .strip .help[aria-pressed='true'] {
    background: var(--lb-warn);
    color: var(--lb-surface);
  }
  .strip .note {
    flex-basis: 100%;
    font-weight: 600;
  }
  .strip .names {
    font-weight: 700;
  }
  progress {
    width: 6rem;
    accent-color: var(--lb-accent);
  }
  .pads.lead {
    grid-template-columns: 1fr;
  }
  main.draws {
    cursor: crosshair;
    user-select: none;
    -webkit-user-select: none;
    touch-action: none;
  }
  .settings fieldset {
    display: grid;
    gap: var(--lb-space-1);
    margin: 0;
  }
  @media (orientation: landscape) {
    .at-table {
      grid-template: auto auto minmax(0, 1fr) / minmax(0, 1fr) 40vw;
    }
  }
  /* Beside a call: what is called how is known, and the call for help is as high as what stands beside it. */
  @media (orientation: portrait) and (max-height: 480px) {
    .at-table {
      grid-template-rows: 0 auto minmax(0, 1fr) 24dvh;
    }
    header {
      position: absolute;
      inset-block-start: 2px;
      inset-inline-end: var(--lb-space-1);
      padding: 0;
      border: 0;
      background: none;
    }
    header h1 {
      position: absolute;
      width: 1px;
      height: 1px;
      clip-path: inset(50%);
    }
    .at-table > .strip {
      grid-row: 2;
    }
    main.stage {
      grid-row: 3;
      padding-block: 2px;
    }
    .pads {
      grid-row: 4;
      padding-block: var(--lb-space-1);
    }
    .strip.learner {
      display: grid;
      grid-template-columns: auto minmax(0, 1fr);
      gap: 2px var(--lb-space-2);
      padding-block: 2px;
    }
    .strip .help {
      grid-row: 1 / 3;
      height: 100%;
    }
    .strip .where {
      padding-inline-end: 52px;
      line-height: 1.25;
    }
    .strip .pace {
      min-height: 36px;
      justify-self: start;
    }
    .strip.learner .note {
      grid-column: 1 / -1;
    }
  }
`;
