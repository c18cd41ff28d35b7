import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import type { BenchRow } from './bench-row.ts';
import { chunksOfPage, laterImports, laterParts, scriptsOfPage, staticImports } from './bundle-size.ts';
import { minAndMedian } from './measure.ts';
import { formatReport, growthExponent, isHeld } from './report.ts';

const row = (size: number, value: number, extra: Partial<BenchRow> = {}): BenchRow => ({
  name: 'a thing',
  size,
  value,
  unit: 'ms',
  min: value,
  median: value,
  ...extra,
});

describe('the bench report', () => {
  it('finds the exponent of a power law, and none in a single size', () => {
    expect(growthExponent([1, 2, 4, 8].map((size) => row(size, 3 * size ** 1.5)))).toBeCloseTo(1.5, 12);
    expect(growthExponent([row(4, 1), row(4, 2)])).toBeNull();
    expect(growthExponent([row(0, 1), row(4, 2)])).toBeNull();
  });

  it('tells a ratio within its bound from one outside', () => {
    const held = (ratio: number, bound: number, atLeast: boolean): boolean =>
      isHeld(row(1, 1, { ratioTo: { name: 'other', ratio, bound, atLeast } }));
    expect([held(1.9, 2, false), held(2.1, 2, false), held(1.9, 2, true), held(2.1, 2, true)]).toEqual([
      true,
      false,
      false,
      true,
    ]);
    expect(isHeld(row(1, 1))).toBe(true);
  });

  it('says where and when it was measured, and which bound is not held', () => {
    const facts = { date: '2024-02-03', commit: 'abc1234', cpu: 'a CPU', cores: 2, node: '20.0.0' };
    const report = formatReport(
      [row(10, 0.012345), row(20, 1234.5, { ratioTo: { name: 'other', ratio: 3, bound: 2 } })],
      facts,
    );
    expect(report).toContain('2024-02-03, commit abc1234, a CPU (2 cores), Node 20.0.0');
    expect(report).toContain('| a thing | 10 | 0.0123 | ms |');
    expect(report).toContain('| a thing | 20 | 1,235 | ms |');
    expect(report).toContain('3 x other (at most 2: **not held**)');
    expect(report).toMatch(/\| a thing \| size\^16\.\d\d \|/);
  });

  it('takes the least and the middle of the repeats', () => {
    expect(minAndMedian([5, 1, 9])).toEqual({ min: 1, median: 5 });
    expect(() => minAndMedian([])).toThrow(RangeError);
  });
});

describe('the size of a page', () => {
  it('counts module scripts and preloaded modules, not styles or preloaded pictures', () => {
    const html = `<link rel="stylesheet" href="/a.css"><link rel="modulepreload" crossorigin href="/assets/b.js">
      <script type="module" crossorigin src="/assets/c.js"></script><link rel="icon" href="/d.svg"><script>1</script>`;
    expect(scriptsOfPage(html)).toEqual(['/assets/b.js', '/assets/c.js']);
  });

  it('follows static imports and exports from, not dynamic imports', () => {
    const code = `import{a as b}from"./x.js";import"./y.js";export*from"./z.js";export{c}from"./w.js";export const d=b;import("./v.js");`;
    expect(staticImports('a.js', code)).toEqual(['./x.js', './y.js', './z.js', './w.js']);
    expect(() => staticImports('a.js', 'import from from')).toThrow(/a\.js/);
  });

  it('follows what is imported while it runs, where the address is a literal', () => {
    const code = 'import"./x.js";const a=()=>b(()=>import("./v.js").then(c=>c.d));import(`./w.js`);';
    expect(laterImports('a.js', code)).toEqual(['./v.js', './w.js']);
    expect(() => laterImports('a.js', ['import(`./$', '{b}.js`)'].join(''))).toThrow(RangeError);
    expect(() => laterImports('a.js', 'import(b)')).toThrow(RangeError);
  });

  const folder = mkdtempSync(join(tmpdir(), 'bundle-'));
  afterAll(() => rmSync(folder, { recursive: true }));
  const built = {
    'index.html': '<script type="module" src="/assets/main.js"></script>',
    'assets/main.js': 'import"./shared.js";import("./board-page.js");import("./help.js");',
    'assets/shared.js': 'import"./main.js";export const a=1;',
    'assets/board-page.js': 'import{a}from"./shared.js";a;',
    'assets/help.js': 'export const help=1;',
  };

  it('adds up what is reached statically, each file once, and the named chunks loaded later', () => {
    mkdirSync(join(folder, 'assets'));
    for (const [file, text] of Object.entries(built)) writeFileSync(join(folder, file), text);
    const files = Object.keys(built);
    const names = (alsoLoads: readonly string[]): readonly string[] =>
      chunksOfPage(folder, 'index.html', alsoLoads, files)
        .map((chunk) => chunk.file)
        .sort();
    expect(names([])).toEqual(['assets/main.js', 'assets/shared.js']);
    expect(names(['board-'])).toEqual(['assets/board-page.js', 'assets/main.js', 'assets/shared.js']);
    const shared = chunksOfPage(folder, 'index.html', [], files).find(
      (chunk) => chunk.file === 'assets/shared.js',
    );
    expect(shared?.gzipBytes).toBe(gzipSync(built['assets/shared.js'], { level: 9 }).length);
    expect(() => names(['map-'])).toThrow(/map-/);
  });

  it('adds up what each later part fetches beside what is there, parts of parts too', () => {
    const later = {
      'assets/index-00000000.js': 'import("./page-00000001.js");import("./help-00000002.js");',
      'assets/page-00000001.js':
        'import"./index-00000000.js";import"./common-00000003.js";import("./help-00000002.js");',
      'assets/help-00000002.js': 'import"./common-00000003.js";import(`./lb-deep-page-0-_0000z.js`);',
      'assets/common-00000003.js': 'export const a=1;',
      'assets/lb-deep-page-0-_0000z.js': 'export const deep=1;',
    };
    for (const [file, text] of Object.entries(later)) writeFileSync(join(folder, file), text);
    const size = (...files: readonly (keyof typeof later)[]): number =>
      files.reduce((sum, file) => sum + gzipSync(later[file], { level: 9 }).length, 0);
    const common = 'assets/common-00000003.js';
    expect(laterParts(folder, ['assets/index-00000000.js'])).toEqual([
      { name: 'help', requests: 2, gzipBytes: size('assets/help-00000002.js', common) },
      { name: 'lb-deep-page', requests: 1, gzipBytes: size('assets/lb-deep-page-0-_0000z.js') },
      { name: 'page', requests: 2, gzipBytes: size('assets/page-00000001.js', common) },
    ]);
    const twins = 'import("./help-00000002.js");import("./sub/help-00000009.js");';
    mkdirSync(join(folder, 'assets/sub'));
    writeFileSync(join(folder, 'assets/sub/help-00000009.js'), 'export const other=2;');
    writeFileSync(join(folder, 'assets/index-00000000.js'), twins);
    expect(() => laterParts(folder, ['assets/index-00000000.js'])).toThrow(/help/);
  });
});
