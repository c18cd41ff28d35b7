/** The floors of the page: who stands on whom. Types count too, and so does what is fetched later. */
import { describe, expect, it } from 'vitest';
import { circles, filesBelow, readSource, type SourceFile } from './source-files.ts';

/** From the ground up. A folder imports from its own floor and from those below. */
const FLOORS: readonly (readonly string[])[] = [
  ['text', 'context', 'units', 'parts', 'fields', 'styles', 'icons'],
  ['words', 'worker', 'writing'],
  ['sync', 'offline'],
  ['board'],
  [
    'talk',
    'panels',
    'people',
    'notices',
    'links',
    'visit',
    'compare',
    'set',
    'start',
    'wish',
    'table',
    'versions',
    'proposals',
    'files',
    'paper',
  ],
  ['lesson'],
  ['pages'],
];

const web = filesBelow('web', ['.ts']).map(readSource);

/** Folder of a file of the page; null for those that put the page together. */
function folderOf(path: string): string | null {
  const parts = path.split('/');
  return parts.length === 2 ? null : parts[1]!;
}

function floorOf(folder: string): number {
  return FLOORS.findIndex((floor) => floor.includes(folder));
}

interface Step {
  readonly from: string;
  readonly to: string;
  readonly isTypeOnly: boolean;
  readonly text: string;
}

/** Imports from one folder of the page into another. */
function stepsOf(files: readonly SourceFile[]): Step[] {
  return files.flatMap(({ path, imports }) =>
    imports.flatMap(({ file, isTypeOnly }) => {
      if (file === null || !file.startsWith('web/') || !file.endsWith('.ts')) return [];
      const [from, to] = [folderOf(path), folderOf(file)];
      if (from === null || to === null || from === to) return [];
      return [{ from, to, isTypeOnly, text: `${path} imports ${file}` }];
    }),
  );
}

/** Imports of a folder above. */
function stepsUp(files: readonly SourceFile[]): string[] {
  return stepsOf(files)
    .filter(({ from, to }) => floorOf(to) > floorOf(from))
    .map(({ text }) => text)
    .sort();
}

/** Folders that import each other, in whatever way. */
function twoWay(files: readonly SourceFile[]): string[] {
  const pairs = new Set(stepsOf(files).map(({ from, to }) => `${from} ${to}`));
  return [...pairs]
    .map((pair) => pair.split(' ') as [string, string])
    .filter(([from, to]) => from < to && pairs.has(`${to} ${from}`))
    .map(([from, to]) => `${from} and ${to}`)
    .sort();
}

/** Folders from which one comes back to where one was. */
function inCircles(files: readonly SourceFile[]): string[] {
  const next = new Map<string, Set<string>>();
  for (const { from, to, isTypeOnly } of stepsOf(files))
    if (!isTypeOnly) next.set(from, (next.get(from) ?? new Set()).add(to));
  const reach = (start: string): Set<string> => {
    const seen = new Set<string>();
    const open = [start];
    for (let at = open.pop(); at !== undefined; at = open.pop())
      for (const to of next.get(at) ?? []) {
        if (!seen.has(to)) open.push(to);
        seen.add(to);
      }
    return seen;
  };
  return [...next.keys()].filter((folder) => reach(folder).has(folder)).sort();
}

describe('the floors of the page', () => {
  it('have a place for every folder', () => {
    const folders = [...new Set(web.map(({ path }) => folderOf(path)))].filter((folder) => folder !== null);
    expect(folders.toSorted()).toEqual(FLOORS.flat().toSorted());
    expect(stepsOf(web).length).toBeGreaterThan(200);
  });

  it('are not imported from below', () => {
    expect(stepsUp(web)).toEqual([]);
  });

  it('hold no two folders that import each other', () => {
    expect(twoWay(web)).toEqual([]);
  });

  it('hold no folders that import each other in a circle', () => {
    expect(inCircles(web)).toEqual([]);
  });

  it('hold no files that import each other in a circle, types included', () => {
    const graph = new Map(
      web.map(({ path, imports }) => [path, imports.flatMap(({ file }) => (file === null ? [] : [file]))]),
    );
    expect(circles(graph)).toEqual([]);
  });

  it('a step up, a pair and a circle would be found', () => {
    const file = (path: string, ...targets: readonly string[]): SourceFile => ({
      path,
      text: '',
      imports: targets.map((target) => ({
        specifier: '',
        file: target.replace('type ', ''),
        package: null,
        isTypeOnly: target.startsWith('type '),
        isLater: false,
        names: [],
      })),
    });
    expect(stepsUp([file('web/text/a.ts', 'type web/board/b.ts', 'web/styles/c.ts')])).toEqual([
      'web/text/a.ts imports web/board/b.ts',
    ]);
    const pair = [file('web/talk/a.ts', 'type web/set/b.ts'), file('web/set/b.ts', 'web/talk/c.ts')];
    expect(twoWay(pair)).toEqual(['set and talk']);
    expect(inCircles(pair)).toEqual([]);
    const ring = [
      file('web/talk/a.ts', 'web/set/b.ts'),
      file('web/set/c.ts', 'web/files/d.ts'),
      file('web/files/e.ts', 'web/talk/f.ts', 'web/text/g.ts'),
    ];
    expect(twoWay(ring)).toEqual([]);
    expect(inCircles(ring)).toEqual(['files', 'set', 'talk']);
  });
});
