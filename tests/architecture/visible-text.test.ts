/** All visible text of the page comes from web/text: no template holds words of its own. */
import { describe, expect, it } from 'vitest';
import { filesBelow, readSource } from './source-files.ts';

/** Attributes whose values are read or heard. */
const SPOKEN =
  /\b(?:aria-label|aria-description|aria-roledescription|title|placeholder|alt)=(["'])([^"']*)\1/g;

/** Where a template that begins at `at` ends, and what stands in it outside `${…}`. */
function readTemplate(text: string, at: number): { readonly end: number; readonly markup: string } {
  let markup = '';
  let i = at;
  while (i < text.length && text[i] !== '`') {
    if (text.startsWith('${', i)) {
      i = readHole(text, i + 2);
      markup += '\u0001';
    } else {
      markup += text[i];
      i++;
    }
  }
  return { end: i + 1, markup };
}

/** Where a `${…}` ends that begins at `at`; templates and strings inside it are passed over. */
function readHole(text: string, at: number): number {
  let depth = 1;
  let i = at;
  while (i < text.length && depth > 0) {
    const sign = text[i]!;
    if (sign === '`') {
      i = readTemplate(text, i + 1).end;
      continue;
    }
    if (sign === "'" || sign === '"') {
      i = text.indexOf(sign, i + 1) + 1;
      continue;
    }
    if (sign === '{') depth++;
    if (sign === '}') depth--;
    i++;
  }
  return i;
}

/** Words of two letters and more that the templates of a source would show as they stand. */
function wordsShown(text: string): readonly string[] {
  const code = text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
  return [...code.matchAll(/\b(?:html|svg)`/g)].flatMap((found) => {
    const { markup } = readTemplate(code, found.index + found[0].length);
    const spoken = [...markup.matchAll(SPOKEN)].map(([, , value]) => value!);
    const shown = markup.replace(/<!--[\s\S]*?-->/g, ' ').replace(/<[^>]*>/g, ' ');
    return [...spoken, shown].flatMap((part) => part.match(/\p{L}{2,}/gu) ?? []);
  });
}

describe('[A57] visible text', () => {
  it('that stands in a template would be found, nested or spoken', () => {
    // § stands for the dollar sign, so that these are no templates here.
    const words = (sample: string): readonly string[] => wordsShown(sample.replaceAll('§', '$'));
    expect(words('html`<p class="quiet">§{t("a")} Hello</p>`')).toEqual(['Hello']);
    expect(words('html`<b>§{x ? html`<i>in</i>` : nothing}</b>`')).toEqual(['in']);
    expect(words('html`<button aria-label="Close it">×</button>`')).toEqual(['Close', 'it']);
    expect(words('html`<p title=§{t("a")}>§{t("b")}</p>`')).toEqual([]);
  });

  it('stands nowhere but in the tables of texts', () => {
    const shown = filesBelow('web', ['.ts'])
      .filter((path) => !path.startsWith('web/text/'))
      .map(readSource)
      .flatMap(({ path, text }) => wordsShown(text).map((word) => `${path}: ${word}`));
    expect(shown).toEqual([]);
  });
});
