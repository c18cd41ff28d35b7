/** Which files are held to the bar, and what is said of those below it. */

/** Share of its branches that tests without a browser take of each file. */
export const LEAST = 0.85;

export interface Branches {
  readonly taken: number;
  readonly all: number;
}

/** Files that may be below the bar, and why. */
export interface Exception {
  readonly why: string;
  readonly files: readonly string[];
}

/** A file without branches is whole. */
export function shareOf({ taken, all }: Branches): number {
  return all === 0 ? 1 : taken / all;
}

/** What is registered as an element is called `Lb…`, whatever it is built on; what elements are built on is an element of the browser's or Lit's. */
const ELEMENT = /\bclass (?:Lb[A-Z]\w* extends \w+|\w+ extends (?:HTML|Lit)Element)\b/;

/** Product files that are no elements; those are shown by tests in a browser. */
export function isMeasured(path: string, text: string): boolean {
  return /^(?:engine|server|web)\//.test(path) && !ELEMENT.test(text);
}

const line = (path: string, branches: Branches): string =>
  `  ${Math.floor(shareOf(branches) * 100)} % (${branches.taken} of ${branches.all})  ${path}\n`;

/** What is below: what is listed by its reason, and what is not and has to be mended. */
export function tellOf(
  found: ReadonlyMap<string, Branches>,
  exceptions: readonly Exception[],
): { readonly text: string; readonly isGood: boolean } {
  const below = [...found].filter(([, branches]) => shareOf(branches) < LEAST).sort();
  const listed = new Set(exceptions.flatMap(({ files }) => files));
  const bad = below.filter(([path]) => !listed.has(path));
  const known = exceptions.map(({ why, files }) => {
    const lines = below.filter(([path]) => files.includes(path)).map((one) => line(...one));
    return `\n${why}:\n${lines.join('')}`;
  });
  const done = [...listed].filter((path) => !below.some(([one]) => one === path)).sort();
  const text = [
    ...known,
    done.length === 0 ? '' : `\nListed, and below no more:\n${done.map((path) => `  ${path}\n`).join('')}`,
    bad.length === 0 ? '' : `\nBelow the bar and not listed:\n${bad.map((one) => line(...one)).join('')}`,
  ].join('');
  return { text, isGood: bad.length === 0 };
}
