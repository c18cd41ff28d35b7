/** The boards of an earlier release that every later one opens: where they lie, what is in them, and a copy to try. */
import { copyFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { hashSecret } from '../../server/access/secrets.ts';
import { SqliteAccessStore } from '../../server/access/sqlite-access-store.ts';
import type { BoardWhole, DesignWhole } from './board-whole.ts';
import type { BrowserDump } from './browser-dump.ts';
import type { StoreWhole } from './store-whole.ts';

/** A link, and as whom it lets in; null where it opens nothing. */
export interface SecretThere {
  readonly board: string;
  readonly secret: string;
  readonly role: string | null;
  /** When it ends, in milliseconds since 1970; null = never. */
  readonly endsAt: number | null;
  readonly why: string;
}

/** Boards of the fixture by what they show. */
export const FIXTURE_BOARDS = [
  'gangway',
  'harbour',
  'stairs',
  'tide',
  'dock',
  'slip',
  'chart',
  'secondHand',
] as const;
export type FixtureBoard = (typeof FIXTURE_BOARDS)[number];

/** The crew: each a person with a cookie of their own. */
export const FIXTURE_PEOPLE = ['orla', 'tove', 'idris', 'pim', 'lua'] as const;
export type FixturePerson = (typeof FIXTURE_PEOPLE)[number];

/** Who keeps what in a browser; each file beside the store is named after it. */
export const FIXTURE_BROWSERS = ['bridge', 'mate', 'purser', 'stoker'] as const;
export type FixtureBrowser = (typeof FIXTURE_BROWSERS)[number];

export interface Expected {
  readonly madeAt: string;
  readonly boards: Readonly<Record<FixtureBoard, { readonly id: string } & BoardWhole>>;
  readonly people: Readonly<
    Record<
      FixturePerson,
      {
        readonly cookie: string;
        readonly personId: string;
        readonly boards: readonly { readonly id: string; readonly role: string }[];
      }
    >
  >;
  readonly secrets: readonly SecretThere[];
  /** A board that was deleted, with its branch. */
  readonly deleted: { readonly id: string; readonly branch: string; readonly title: string };
  readonly demos: readonly { readonly id: string; readonly design: DesignWhole }[];
  /** The store itself, before anybody comes. */
  readonly store: StoreWhole;
  /** Versions that no thinning ever takes: named ones, late copies, the first and the newest automatic one. */
  readonly lasting: Readonly<Record<string, readonly string[]>>;
  readonly browsers: {
    /** What was tied on the gangway without a connection, what waits to be said about the harbour, and where Orla is in tying. */
    readonly bridge: {
      readonly rows: readonly string[];
      readonly outbox: readonly string[];
      readonly draft: string;
      readonly step: string;
    };
    /** What these two hold of ended generations of the dock. */
    readonly mate: { readonly rows: readonly string[] };
    readonly purser: { readonly rows: readonly string[] };
    /** What is kept of the deleted board, and a change of a demo board that could not become a board. */
    readonly stoker: {
      readonly rows: readonly string[];
      readonly demo: string;
      readonly demoRows: readonly string[];
    };
  };
  /** What the dock shows once mate and purser are back. */
  readonly dockThen: { readonly title: string; readonly rows: readonly string[] };
}

export const FIXTURE = fileURLToPath(new URL('../fixtures/store-2026-11/', import.meta.url));
/** Files of the server's data folder. */
export const FIXTURE_DATA = ['larkboard.db', 'access.db'] as const;

const textOf = (name: string): string => readFileSync(join(FIXTURE, name), 'utf8');

export function readExpected(): Expected {
  return JSON.parse(textOf('expected.json')) as Expected;
}

export function readDump(name: FixtureBrowser): BrowserDump {
  return JSON.parse(textOf(`browser-${name}.json`)) as BrowserDump;
}

/** What an owner was given as everything there is of the harbour. */
export function readFixtureArchive(): Uint8Array {
  return readFileSync(join(FIXTURE, 'archive.zip'));
}

/**
 * Puts a copy into a folder, for a server to start on. Sessions end a year after the last visit, and the fixture is read for longer:
 * so the crew's are extended in the copy, as a visit just now would do.
 */
export async function copyFixture(folder: string): Promise<void> {
  for (const name of FIXTURE_DATA) copyFileSync(join(FIXTURE, name), join(folder, name));
  const access = new SqliteAccessStore(join(folder, 'access.db'));
  for (const { cookie } of Object.values(readExpected().people))
    if (!(await access.extendSession(hashSecret(cookie.split('=')[1]!), Date.now(), Number.MAX_SAFE_INTEGER)))
      throw new Error('the access data does not know one of the crew');
  await access.close();
}
