/** What a page remembers of its own writes to one key, on documents joined by hand. */
import * as Y from 'yjs';
import { describe, expect, it } from 'vitest';
import { OwnWrites } from '../../../../engine/document/texts/own-writes.ts';

/** A page with a text of its own in it. */
class Page {
  readonly doc = new Y.Doc();
  readonly map = this.doc.getMap('texts');
  readonly own = new OwnWrites();

  constructor(client: number) {
    this.doc.clientID = client;
  }

  get text(): string {
    return (this.map.get('title') as string | undefined) ?? '';
  }

  write(after: string): void {
    const before = this.text;
    this.map.set('title', after);
    this.note(before, after);
  }

  note(before: string, after: string): void {
    this.own.note(this.doc, this.map, 'title', { before, after });
  }

  lost(): readonly string[] {
    return this.own.takeLost(this.doc, this.map, 'title').map(({ after }) => after);
  }

  hear(other: Page): void {
    Y.applyUpdate(this.doc, Y.encodeStateAsUpdate(other.doc));
  }
}

describe('[D344] own writes', () => {
  it('are those whose value stands there: not where nothing does, nor where somebody else’s does, nor twice', () => {
    const [mine, theirs] = [new Page(1), new Page(2)];
    mine.note('', 'a');
    theirs.write('theirs');
    mine.hear(theirs);
    mine.note('', 'theirs');
    expect(mine.own.isEmpty).toBe(true);
    mine.write('a');
    mine.note('', 'a');
    theirs.write('other');
    mine.hear(theirs);
    expect([mine.text, mine.lost()]).toEqual(['other', ['a']]);
  });

  it('are lost where the value that stands did not know them, and told once', () => {
    const [mine, theirs] = [new Page(1), new Page(2)];
    mine.write('one');
    theirs.hear(mine);
    mine.write('two');
    theirs.write('theirs');
    mine.hear(theirs);
    expect([mine.text, mine.lost(), mine.lost()]).toEqual(['theirs', ['two'], []]);
    expect(mine.own.isEmpty).toBe(false);
  });

  it('are not lost while their own value stands, nor where the key is empty', () => {
    const mine = new Page(1);
    expect(mine.lost()).toEqual([]);
    mine.write('one');
    mine.write('two');
    expect(mine.lost()).toEqual([]);
  });

  it('of the ended generation are put on what stood there before them, unless its end was built on them', () => {
    const mine = new Page(1);
    expect(mine.own.baseFor('x')).toBeNull();
    mine.write('one');
    mine.write('one two');
    expect(['one', 'one two', ''].map((stood) => mine.own.baseFor(stood))).toEqual([null, null, null]);
    expect(mine.own.baseFor('elsewhere')).toBe('one');
  });

  it('carried into the next generation are found below what others wrote over them since', () => {
    const [mine, theirs] = [new Page(1), new Page(2)];
    mine.map.set('title', 'carried');
    theirs.hear(mine);
    theirs.map.set('title', 'over it');
    mine.hear(theirs);
    mine.own.noteCarried(mine.doc, mine.map, 'title', { before: 'stood', after: 'carried' });
    expect(mine.own.baseFor('elsewhere')).toBe('stood');
    // Who wrote over it knew it.
    expect(mine.lost()).toEqual([]);
  });

  it('are none where nothing of this page was carried over', () => {
    const [mine, theirs] = [new Page(1), new Page(2)];
    const carry = (): void =>
      mine.own.noteCarried(mine.doc, mine.map, 'title', { before: 'stood', after: 'carried' });
    carry();
    theirs.write('theirs');
    mine.hear(theirs);
    carry();
    expect(mine.own.isEmpty).toBe(true);
  });
});
