/** What is fetched later is declared in one place, fetched in one, and told from a fault in one. */
import { describe, expect, it } from 'vitest';
import { filesBelow, importsOf, readSource, type SourceFile } from './source-files.ts';

const web = filesBelow('web', ['.ts']).map(readSource);

const MANIFEST = 'web/part-manifest.ts';

/** Files beside the manifest that fetch something, each with the reason. */
const FETCH_TOO: readonly string[] = [
  // A language is a folder, and its index says which file holds which texts.
  'web/text/de/index.ts',
  'web/text/en/index.ts',
  'web/text/index.ts',
  // A worker begins with a file of its own, and is no part of the page.
  'web/worker/start-job.ts',
];

/** Files that look for a TypeError, each with the reason. */
const SEE_TYPE_ERRORS: readonly string[] = [
  // The browser's clipboard may refuse.
  'web/board/clipboard.ts',
  'web/links/lb-links-panel.ts',
  // The browser may take no service worker.
  'web/offline/keep-offline.ts',
  // A part could not be fetched.
  'web/parts/try-fetch.ts',
  // The browser's clipboard may refuse.
  'web/set/lb-set-shopping.ts',
];

/** Code without comments, texts kept. */
const codeOf = ({ text }: SourceFile): string =>
  text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');

const fetches = (file: SourceFile): boolean => file.imports.some(({ isLater }) => isLater);

interface Declared {
  readonly name: string;
  readonly file: string;
  readonly elements: readonly string[];
  readonly needs: readonly string[];
}

/** Quoted words of a list in a part's declaration. */
const listed = (body: string, what: string): string[] =>
  Array.from(
    (new RegExp(`${what}: \\[([^\\]]*)\\]`).exec(body)?.[1] ?? '').matchAll(/'([^']+)'/g),
    ([, word]) => word!,
  );

/** The parts of a manifest, as they stand in its text. */
function partsIn(file: SourceFile): Declared[] {
  const starts = [...codeOf(file).matchAll(/^ {2}'?([\w-]+)'?: \{/gm)];
  return starts.map(({ 1: name, index }, i) => {
    const body = codeOf(file).slice(index, starts[i + 1]?.index);
    const [fetched] = importsOf(body, file.path).filter(({ isLater }) => isLater);
    return {
      name: name!,
      file: fetched?.file ?? '',
      elements: listed(body, 'elements'),
      needs: listed(body, 'needs'),
    };
  });
}

const classOf = (tag: string): string =>
  tag.replace(/(?:^|-)(\w)/g, (_, letter: string) => letter.toUpperCase());

/** Elements that a part registers and its file does not export. */
function unknownElements(parts: readonly Declared[], files: readonly SourceFile[]): string[] {
  return parts.flatMap(({ name, file, elements }) => {
    const { text = '' } = files.find(({ path }) => path === file) ?? {};
    return elements
      .filter(
        (tag) =>
          !new RegExp(`^export (?:class ${classOf(tag)}\\b|\\{[^}]*\\b${classOf(tag)}\\b)`, 'm').test(text),
      )
      .map((tag) => `${name}: ${tag}`);
  });
}

/** What the file of a part exports, is no element of it, and nobody takes by name: of an `import()` knip takes all as wanted. */
function untakenExports(parts: readonly Declared[], files: readonly SourceFile[]): string[] {
  const declares = /^export (?:async |abstract )*(?:function\*?|class|const|let|interface|type) (\w+)/gm;
  return parts.flatMap(({ name, file, elements }) => {
    const uses = new RegExp(`(?:Part|Meanwhile)\\(\\s*'${name}'`);
    const takers = files.filter(
      ({ path, text, imports }) =>
        path !== MANIFEST && (uses.test(text) || imports.some((one) => one.file === file)),
    );
    const text = files.find(({ path }) => path === file)?.text ?? '';
    return Array.from(text.matchAll(declares), ([, exported]) => exported!)
      .filter((exported) => !elements.map(classOf).includes(exported))
      .filter((exported) => !takers.some((taker) => new RegExp(`\\b${exported}\\b`).test(taker.text)))
      .map((exported) => `${file}: ${exported}`);
  });
}

describe('parts of the page', () => {
  const manifest = web.find(({ path }) => path === MANIFEST)!;
  const parts = partsIn(manifest);

  it('are imported by the manifest alone', () => {
    expect(parts.length).toBeGreaterThan(30);
    expect(parts.filter(({ file }) => file === '')).toEqual([]);
    expect(web.filter(fetches).map(({ path }) => path)).toEqual([MANIFEST, ...FETCH_TOO]);
  });

  it('are declared once, need parts that there are, and export the elements that they register', () => {
    const names = parts.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    expect(parts.flatMap(({ needs }) => needs).filter((need) => !names.includes(need))).toEqual([]);
    const files = parts.map(({ file }) => file);
    expect(new Set(files).size).toBe(files.length);
    expect(parts.flatMap(({ elements }) => elements).length).toBeGreaterThan(40);
    expect(unknownElements(parts, web)).toEqual([]);
    expect(untakenExports(parts, web)).toEqual([]);
  });

  it('are named by those who want them, each by somebody', () => {
    const code = web
      .filter(({ path }) => path !== MANIFEST)
      .map(codeOf)
      .join('\n');
    // Panels and pages are named by what they are.
    const isWanted = (name: string): boolean => {
      const [, group] = /^(panel|page)-/.exec(name) ?? [];
      return code.includes(`'${name}'`) || (group !== undefined && code.includes(`fetchPart(\`${group}-\${`));
    };
    const needed = new Set(parts.flatMap(({ needs }) => needs));
    expect(parts.filter(({ name }) => !needed.has(name) && !isWanted(name)).map(({ name }) => name)).toEqual(
      [],
    );
  });

  it('register elements in one place, those of the first screen in another', () => {
    const defining = web.filter((file) => /customElements\.define\(/.test(codeOf(file)));
    expect(defining.map(({ path }) => path)).toEqual(['web/elements.ts', 'web/parts/parts.ts']);
  });

  it('that cannot be fetched are told from a fault in one place', () => {
    const seeing = web.filter((file) => /instanceof TypeError/.test(codeOf(file)));
    expect(seeing.map(({ path }) => path)).toEqual(SEE_TYPE_ERRORS);
  });

  it('a fetch elsewhere, a part twice and an element that is not exported would be found', () => {
    const file = (path: string, text: string): SourceFile => ({ path, text, imports: importsOf(text, path) });
    expect(fetches(file('web/set/a.ts', "const b = () => import('./b.ts');"))).toBe(true);
    expect(fetches(file('web/set/a.ts', "type B = typeof b;\n// import('./b.ts')\n"))).toBe(false);
    const declared = partsIn(
      file(
        'web/m.ts',
        "const A = {\n  one: { file: () => import('./a.ts'), elements: ['lb-a', 'lb-b-c'] },\n  'two-a': {\n    file: () => import('./c.ts'),\n    needs: ['one'],\n  },\n};",
      ),
    );
    expect(declared).toEqual([
      { name: 'one', file: 'web/a.ts', elements: ['lb-a', 'lb-b-c'], needs: [] },
      { name: 'two-a', file: 'web/c.ts', elements: [], needs: ['one'] },
    ]);
    const exporting = file('web/a.ts', "export class LbA {}\nexport { type Other } from './b.ts';");
    expect(unknownElements(declared, [exporting])).toEqual(['one: lb-b-c']);
    const more = file(
      'web/a.ts',
      'export class LbA {}\nexport const b = 1;\nexport interface C {}\nexport function d() {}',
    );
    const using = file('web/d.ts', "void usePart('one', ({ d }) => d());");
    expect(untakenExports(declared, [more, using])).toEqual(['web/a.ts: b', 'web/a.ts: C']);
  });
});
