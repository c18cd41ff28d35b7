/** What can go wrong, in every language: each kind of the engine and of the server, each demand, and no English from either. */
import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { PROBLEM_KINDS, type ProblemKind } from '../../../engine/document/problem-kinds.ts';
import { parseBoard } from '../../../engine/index.ts';
import type { Demand } from '../../../engine/pattern/demand.ts';
import { ApiError, ask } from '../../../web/sync/api.ts';
import { deProblems } from '../../../web/text/de/problems.ts';
import { enProblems } from '../../../web/text/en/problems.ts';
import { LANGUAGES, type Language, loadTexts, speak } from '../../../web/text/index.ts';
import { sayError, sayServerError } from '../../../web/words/say-error.ts';
import { sayWorkOrderError } from '../../../web/words/say-work-order.ts';
import { openDesign } from '../../support/open-design.ts';

const KINDS = Object.keys(PROBLEM_KINDS) as ProblemKind[];
const TABLES: Readonly<Record<Language, Readonly<Record<string, string>>>> = {
  en: enProblems,
  de: deProblems,
};
const ROOT = new URL('../../..', import.meta.url);

const numbers = { least: 17, most: 43 };
/** One of each; the compiler asks for those that are missing. */
const DEMANDS: { readonly [K in Demand['be']]: Extract<Demand, { be: K }> } = {
  'above-0': { be: 'above-0' },
  'not-negative': { be: 'not-negative' },
  whole: { be: 'whole', ...numbers },
  above: { be: 'above', ...numbers },
  between: { be: 'between', ...numbers },
  'unset-beside': { be: 'unset-beside', other: 'piece.repeats' },
  'short-for-repeats': { be: 'short-for-repeats', most: 43 },
  'one-of': { be: 'one-of', choices: 'a1, b2' },
  characters: { be: 'characters', ...numbers },
  entries: { be: 'entries', ...numbers },
  knots: { be: 'knots', count: 5, strings: 11 },
  text: { be: 'text' },
  plain: { be: 'plain' },
  spaces: { be: 'spaces', most: 43 },
  list: { be: 'list' },
  object: { be: 'object' },
  flag: { be: 'flag' },
  hex: { be: 'hex' },
  id: { be: 'id' },
  knot: { be: 'knot' },
  'most-rows': { be: 'most-rows', most: 43 },
  'most-strings': { be: 'most-strings', most: 43 },
  'most-colours': { be: 'most-colours', most: 43 },
  'most-colourways': { be: 'most-colourways', most: 43 },
  'most-knots': { be: 'most-knots', most: 43 },
};
const ENGLISH = /\b(must|the|not|and|with|there|this|colour|string|strings|row|rows|server|board)\b/;

beforeAll(async () => {
  vi.stubGlobal('document', { documentElement: {} });
  await loadTexts('common');
});
afterAll(() => vi.unstubAllGlobals());

describe('[A51] what the server answers', () => {
  it.each(Object.keys(LANGUAGES) as Language[])('has a sentence for each kind in %s', (language) => {
    const table = TABLES[language];
    expect(KINDS.length).toBeGreaterThan(50);
    expect(KINDS.filter((kind) => table[`error.${kind}`] === undefined)).toEqual([]);
    for (const kind of KINDS) {
      const asked = [...table[`error.${kind}`]!.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
      for (const name of asked) expect(PROBLEM_KINDS[kind], kind).toContain(name);
    }
  });

  it('is said with its values, sizes in the units of the language', async () => {
    await speak('de');
    const said = { values: { most: 50, mostBytes: 8 * 1024 * 1024 } };
    expect(sayServerError({ kind: 'too-large', said })).toBe(
      'das ist dem Server zu groß; er nimmt höchstens 8 MB',
    );
    expect(sayServerError({ kind: 'too-many-versions', said })).toContain(
      'höchstens 50 benannte Stände, zusammen 8 MB',
    );
    await speak('en');
    expect(sayServerError({ kind: 'too-large', said: { values: { mostBytes: 4096 } } })).toContain(
      'at most 4 kB',
    );
  });

  it('says each kind that the server may answer, and none of its words', async () => {
    await speak('de');
    const message = 'the server speaks plain English here';
    const values = { most: 7, mostBytes: 4096 };
    for (const kind of KINDS) {
      vi.stubGlobal('fetch', async () =>
        Response.json({ error: { kind, message, values } }, { status: 409 }),
      );
      const refused = await ask('/api/boards/kites').catch((error: unknown) => error);
      if (!(refused instanceof ApiError)) throw new Error(`${kind} was no refusal`);
      const said = sayServerError(refused);
      expect(said, kind).toContain(deProblems[`error.${kind}`].replace(/\{.*$/s, '').trim());
      expect(said, kind).not.toContain(message);
    }
  });

  it('[A53] of a kind this page does not know is still a sentence, without the server’s words', async () => {
    await speak('de');
    expect(sayServerError({ kind: 'status-502' })).toBe(
      'der Server konnte das nicht; versuche es gleich noch einmal',
    );
  });

  it('is a kind of the one list, everywhere in server and engine', () => {
    // The compiler refuses others; this reads what a cast would hide.
    const files = readdirSync(new URL('server/', ROOT), { recursive: true, encoding: 'utf8' }).filter(
      (name) => /-routes\.ts$|app\.ts$|making-limit\.ts$|problem\.ts$/.test(name),
    );
    const said = files.flatMap((name) =>
      [...readFileSync(new URL(`server/${name}`, ROOT), 'utf8').matchAll(/\bkind: '([a-z-]+)'/g)].map(
        ([, kind]) => kind!,
      ),
    );
    expect(new Set(said).size).toBeGreaterThan(20);
    const others = ['done', 'demo', 'board', 'before', 'named', 'branch'];
    expect([...new Set(said)].filter((kind) => !(kind in PROBLEM_KINDS) && !others.includes(kind))).toEqual(
      [],
    );
  });
});

describe('[A52] what the engine refuses', () => {
  it.each(Object.keys(LANGUAGES) as Language[])('says field, demand and value in %s', async (language) => {
    await speak(language);
    for (const demand of Object.values(DEMANDS)) {
      const sentence = sayError({ kind: 'out-of-range', path: 'piece.lengthMm', demand, value: '-3.5' });
      expect(sentence).toContain('-3.5');
      for (const [name, limit] of Object.entries(demand))
        if (name !== 'be' && name !== 'other') expect(sentence).toContain(String(limit));
      expect(sentence).not.toMatch(/[{}]|piece\./);
      if (language !== 'en') expect(sentence).not.toMatch(ENGLISH);
    }
  });

  it('of a board file is said in German with its place', async () => {
    await speak('de');
    const file = {
      format: 'larkboard',
      version: 2,
      palette: [{ id: 'a', name: '', hex: '#123456' }],
      strings: ['a', 'a', 'a', 'a'],
      rows: ['f f', 'f x'],
    };
    const say = (over: object): string => {
      const parsed = parseBoard({ ...file, ...over });
      if (parsed.ok) throw new Error('this was to be refused');
      return sayError(parsed.error);
    };
    expect(say({})).toBe(
      'einen solchen Knoten gibt es nicht (rows[1]: Knoten sind f, b, fb, bf und -, nicht "x")',
    );
    expect(say({ rows: ['f'] })).toBe(
      'die Zahl der Knoten passt nicht zur Zahl der Stränge (rows[0] muss bei 4 Strängen 2 Knoten haben, nicht 1)',
    );
    expect(say({ version: 7 })).toContain('version muss eines davon sein: 1, 2, 3, 4; nicht 7');
    expect(say({ rows: [], piece: { lengthMm: -1 } })).toBe(
      'Länge (mm) muss größer als 0,01 und höchstens 100000 sein, nicht -1',
    );
    expect(say({ rows: 'f f' })).toBe('rows muss eine Liste sein, nicht "f f"');
  });

  it('of a command is said in German with its limit', async () => {
    await speak('de');
    const design = openDesign();
    const refused = (command: Parameters<typeof design.run>[0]): string => {
      const result = design.run(command);
      if (result.ok) throw new Error('this was to be refused');
      return sayError(result.error);
    };
    expect(refused({ kind: 'insert-string-pairs', at: 0, count: 150 })).toMatch(
      /^ein Brett hat höchstens 200 Stränge/,
    );
    expect(refused({ kind: 'set-title', title: 'x'.repeat(121) })).toBe(
      'Der Name muss 0 bis 120 Zeichen haben, nicht 121',
    );
    expect(refused({ kind: 'set-piece', patch: { knotsPerMinute: 0 } })).toMatch(
      /^Knoten je Minute muss größer als 0/,
    );
  });

  it('of a work order is said in German', async () => {
    await speak('de');
    expect(sayWorkOrderError({ kind: 'too-large' })).toBe('es sind zu viele Reihen; nimm einen Rapport');
    expect(
      sayWorkOrderError({
        kind: 'out-of-range',
        path: 'piece.repeats',
        demand: DEMANDS['above-0'],
        value: 0,
      }),
    ).toBe('Zahl der Rapporte muss eine Zahl über 0 sein, nicht 0');
  });
});
