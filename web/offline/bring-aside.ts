/** Brings to the server what a tab of this browser put aside, over a line of its own. */
import type { BoardLine, loadCopy } from '../sync/index.ts';

type Doc = Awaited<ReturnType<typeof loadCopy>>;

/** Where what was put aside lies. */
export interface AsideShelf {
  /** A document with what lies under this name. */
  readonly load: (name: string) => Promise<Doc>;
  /** Takes it away, unless it holds more than the document, which has it all then. @returns whether it is gone */
  readonly empty: (name: string, doc: Doc) => Promise<boolean>;
}

/** `refused`: the server will not take it. `stopped`: whoever asked gave up. Then it lies where it was. */
export type BringOutcome = 'brought' | 'refused' | 'stopped';

/**
 * A tab that still has it open may write more meanwhile: it is taken away only once the server has confirmed all of it. Brought
 * again, by another tab too, it is not there twice.
 * @param lineOf a line between a document and the room, which has told the room nothing yet
 */
export async function bringAside(
  name: string,
  { load, empty }: AsideShelf,
  lineOf: (doc: Doc, onChange: () => void) => BoardLine,
  signal: AbortSignal,
): Promise<BringOutcome> {
  const doc = await load(name);
  try {
    let outcome: BringOutcome;
    do outcome = await carry(doc, lineOf, signal);
    while (outcome === 'brought' && !(await empty(name, doc)));
    return outcome;
  } finally {
    doc.destroy();
  }
}

/** Fulfils once all that the document holds is on the server's disk, or will never be. */
function carry(
  doc: Doc,
  lineOf: (doc: Doc, onChange: () => void) => BoardLine,
  signal: AbortSignal,
): Promise<BringOutcome> {
  return new Promise((resolve) => {
    let isOver = false;
    const end = (outcome: BringOutcome): void => {
      if (isOver) return;
      isOver = true;
      signal.removeEventListener('abort', stop);
      // Not within a message of the line itself.
      queueMicrotask(() => line.destroy());
      resolve(outcome);
    };
    const stop = (): void => end('stopped');
    const line = lineOf(doc, () => {
      // Closed as outdated for good: the server has brought all of it over to the present document.
      if (line.saved === 'saved' || line.closeReason === 'outdated') end('brought');
      // Of a full board the line would come back again and again: it is tried when the board is next opened.
      else if (line.isEnded || line.closeReason === 'boardFull') end('refused');
    });
    // Who is there is told at the line of the open board.
    line.provider.awareness.setLocalState(null);
    signal.addEventListener('abort', stop);
    if (signal.aborted) stop();
    else line.connect();
  });
}
