/** The parts of the page that are fetched later, by name. What each is made of stands in the manifest, above all floors. */
import { loadTexts, type TextGroup } from '../text/index.ts';
import { tellMissing } from './missing-part.ts';
import { type Fetched, type MissingKind, tryFetch } from './try-fetch.ts';

/** A part as the manifest declares it. */
export interface Part {
  /** Its file, which exports its elements too. */
  readonly file: () => Promise<object>;
  /** Groups of texts that it shows. */
  readonly texts?: readonly TextGroup[];
  /** Elements to be registered, each before those that show it: `lb-in-out` is what the file exports as `LbInOut`. */
  readonly elements?: readonly string[];
  /** Parts that it shows. */
  readonly needs?: readonly string[];
}

export type PartManifest = Readonly<Record<string, Part>>;

/** What the file of each part exports. The manifest fills it in. */
// biome-ignore lint/suspicious/noEmptyInterface: filled in where the files may be named
export interface PartFiles {}

export type PartName = keyof PartFiles & string;

let manifest: PartManifest = {};

/** To be called before anything is fetched. */
export function registerParts(declared: PartManifest): void {
  manifest = declared;
}

/** Fetches a part with its texts and all that it needs, and registers its elements. What is there already is not fetched again. */
export async function fetchPart<N extends PartName>(name: N): Promise<Fetched<PartFiles[N]>> {
  const parts = withNeeds(name);
  const fetched = await tryFetch(() => {
    const texts = new Set(parts.flatMap(({ texts = [] }) => texts));
    return Promise.all([Promise.all(parts.map(({ file }) => file())), ...[...texts].map(loadTexts)]);
  });
  if (!fetched.ok) return fetched;
  const [files] = fetched.value;
  for (const [i, { elements = [] }] of parts.entries()) register(elements, files[i]!);
  return { ok: true, value: files.at(-1) as PartFiles[N] };
}

/**
 * Fetches a part and does something with it. Where it cannot be had, whoever asked is told at the foot of the page, with what they can do.
 * @param isQuiet nobody asked: they are told only that a newer release is out
 * @returns null when it was had, else why not
 */
export async function usePart<N extends PartName>(
  name: N,
  use: (file: PartFiles[N]) => unknown,
  isQuiet = false,
): Promise<MissingKind | null> {
  const fetched = await fetchPart(name);
  if (fetched.ok) {
    await use(fetched.value);
    return null;
  }
  const { kind } = fetched.error;
  if (!isQuiet || kind === 'replaced') tellMissing(kind, () => usePart(name, use, isQuiet));
  return kind;
}

const AGAIN_MS = 4000;

/**
 * Fetches a part that nobody waits for; one that cannot be had now comes when it can. What a newer release has replaced can never come; the
 * page has said so.
 * @param use does something with it once it is there
 */
export async function fetchMeanwhile<N extends PartName>(
  name: N,
  use: (file: PartFiles[N]) => unknown = () => {},
): Promise<void> {
  const missing = await usePart(name, use, true);
  if (missing === 'unreachable') setTimeout(() => void fetchMeanwhile(name, use), AGAIN_MS);
}

/** The part, behind those that it needs. @throws RangeError when there is none of this name */
function withNeeds(name: string): readonly Part[] {
  const part = manifest[name];
  if (part === undefined) throw new RangeError(`the manifest declares no part ${name}`);
  return [...(part.needs ?? []).flatMap(withNeeds), part];
}

function register(elements: readonly string[], file: object): void {
  for (const tag of elements) {
    const name = tag.replace(/(?:^|-)(\w)/g, (_, letter: string) => letter.toUpperCase());
    if (customElements.get(tag) === undefined)
      customElements.define(tag, (file as Readonly<Record<string, CustomElementConstructor>>)[name]!);
  }
}
