/**
 * Fetches what the page is made of and does not have yet, and says why where it cannot be had. Nothing else in the page tells such a failure
 * from a fault.
 */
import { loadTexts } from '../text/index.ts';

/**
 * `replaced`: the server answers, and has the file no more, so a newer release of the page is out. `unreachable`: it may be had on another
 * try.
 */
export type MissingKind = 'unreachable' | 'replaced';

export type Fetched<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly error: { readonly kind: MissingKind } };

/** Where the files of the page come from. */
export interface PageServer {
  /** Asks for a file without its content, past all that the browser keeps. Rejects when nobody answers. */
  readonly head: (address: string) => Promise<Response>;
  /** Address of the script that the page began with; null = unknown. */
  readonly entry: () => string | null;
}

/** A line that swallows what is sent is no server that answers. */
const ANSWER_MS = 8000;

const SERVER: PageServer = {
  // The service worker answers from what it keeps, and lets this through.
  head: (address) =>
    fetch(address, { method: 'HEAD', cache: 'no-store', signal: AbortSignal.timeout(ANSWER_MS) }),
  entry: () => document.querySelector<HTMLScriptElement>('script[type=module][src]')?.src ?? null,
};

/**
 * Fetches, and asks the server why where that fails.
 * @param run must do nothing that can fail but `import()`: a browser says of all failures of it that they are a TypeError
 */
export async function tryFetch<T>(run: () => Promise<T>, server: PageServer = SERVER): Promise<Fetched<T>> {
  const fetched = await attempt(run);
  if (fetched.ok) return fetched;
  return { ok: false, error: { kind: await whyMissing(fetched.error.message, server) } };
}

/** Fetches what something else stands in for, so that nobody has to know why it is not had. @param run as of {@link tryFetch} */
export async function fetchIfThere(run: () => Promise<unknown>): Promise<void> {
  await attempt(run);
}

async function attempt<T>(
  run: () => Promise<T>,
): Promise<{ readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: TypeError }> {
  try {
    return { ok: true, value: await run() };
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    return { ok: false, error };
  }
}

/**
 * Why a file of the page is not had. Never rejects.
 * @param message of the failure. Browsers that name the file name it there; of the others the first script is asked for, which no newer release has
 */
export async function whyMissing(
  message: string,
  { head, entry }: PageServer = SERVER,
): Promise<MissingKind> {
  const address = /\bhttps?:\/\/\S+/.exec(message)?.[0] ?? entry();
  if (address === null) return 'unreachable';
  return head(address).then(
    ({ ok, status, headers }) => {
      const isScript = /javascript/.test(headers.get('content-type') ?? '');
      // Some servers answer with the page what they do not have.
      return status === 404 || status === 410 || (ok && !isScript) ? 'replaced' : 'unreachable';
    },
    () => 'unreachable',
  );
}

/** Fetches the sentences of what can go wrong. Where they cannot be had, one that says less stands in for them. */
export async function loadProblems(): Promise<void> {
  await fetchIfThere(() => loadTexts('common'));
}
