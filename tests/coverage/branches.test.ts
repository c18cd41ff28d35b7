/** What the coverage run says: a file below the bar is bad unless it is listed. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { PARTS } from '../../web/part-manifest.ts';
import type { Part } from '../../web/parts/index.ts';
import { isMeasured, shareOf, tellOf } from './branches.ts';

const found = new Map([
  ['web/a.ts', { taken: 84, all: 100 }],
  ['web/b.ts', { taken: 85, all: 100 }],
  ['web/c.ts', { taken: 0, all: 0 }],
  ['web/d.ts', { taken: 1, all: 3 }],
]);

describe('the bar', () => {
  it('a file below it that is not listed is told and bad; at it, or without branches, it is neither', () => {
    const { text, isGood } = tellOf(found, [{ why: 'draws', files: ['web/d.ts'] }]);
    expect(isGood).toBe(false);
    expect(text).toContain('not listed:\n  84 % (84 of 100)  web/a.ts\n');
    expect(text).not.toMatch(/web\/[bc]\.ts/);
  });

  it('those listed stand under their reason, and those that are below no more are told', () => {
    const { text, isGood } = tellOf(found, [{ why: 'draws', files: ['web/a.ts', 'web/b.ts', 'web/d.ts'] }]);
    expect(isGood).toBe(true);
    expect(text).toBe(
      '\ndraws:\n  84 % (84 of 100)  web/a.ts\n  33 % (1 of 3)  web/d.ts\n\nListed, and below no more:\n  web/b.ts\n',
    );
  });

  it('a share is of branches; none are all', () => {
    expect([shareOf({ taken: 1, all: 4 }), shareOf({ taken: 0, all: 0 })]).toEqual([0.25, 1]);
  });

  it('elements are not measured, whatever they are built on, nor is what they are built on, nor are tests', () => {
    for (const line of [
      'export class LbPlate extends LitElement {',
      'export class LbPlate extends WarmPlate {',
      'export abstract class WarmPlate extends LitElement {',
      'class Shelf extends HTMLElement {',
    ])
      expect(isMeasured('web/board/x.ts', line), line).toBe(false);
    for (const line of [
      'export class PlateEvent extends Event {',
      'export class Plates extends Map<string, LbPlate> {',
      'export class LbWords {',
      'const shelf: HTMLElement | LbPlate = find();',
    ])
      expect(isMeasured('web/board/x.ts', line), line).toBe(true);
    expect(isMeasured('tests/web/x.ts', '')).toBe(false);
  });

  it('each element that a part of the page registers is left out', () => {
    const named = Object.values<Part>(PARTS).flatMap(({ elements = [] }) => elements);
    const text = readdirSync('web', { recursive: true, encoding: 'utf8' })
      .filter(
        (path) => path.endsWith('.ts') && !isMeasured(`web/${path}`, readFileSync(`web/${path}`, 'utf8')),
      )
      .map((path) => readFileSync(`web/${path}`, 'utf8'))
      .join('\n');
    const classOf = (tag: string): string =>
      tag.replace(/(?:^|-)(\w)/g, (_, letter: string) => letter.toUpperCase());
    expect(named.length).toBeGreaterThan(50);
    for (const tag of named) expect(text, tag).toContain(`class ${classOf(tag)} extends `);
  });
});
