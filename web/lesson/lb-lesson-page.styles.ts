/** The door and the waiting room of a lesson: one column, large enough for a phone beside a call. */
import { css } from 'lit';

export const lessonPageStyles = css`
  :host {
    display: block;
    min-height: 100dvh;
  }
  .plain {
    display: grid;
    align-content: start;
    gap: var(--lb-space-4);
    max-width: 40rem;
    margin-inline: auto;
    padding: var(--lb-space-4);
  }
  .said {
    font-size: 1.25rem;
    font-weight: 600;
  }
  form {
    display: grid;
    gap: var(--lb-space-2);
  }
  form input,
  form button {
    min-height: 48px;
    font-size: 1.125rem;
  }
`;
