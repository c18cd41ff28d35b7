/**
 * `npm run store -- <command>`: looks after the SQLite files of a data folder (`DATA_DIR`, default ./data).
 *
 *   backup <folder>   copies every database as of now into a new folder; the server may be running
 *   restore <folder>  puts a backup in place of the data; the server must be stopped; the former files are kept beside
 *   check [<folder>]  reads everything, here or in a backup, and says what is wrong; ends with 1 when something is
 */
import './node-env.ts';
import { copyFileSync, existsSync, mkdirSync, readdirSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import * as Y from 'yjs';
import { BOARD_PARTS, readDesign } from '../engine/document/index.ts';
import { machineClock } from './clock.ts';
import { DATABASE_FILE } from './open.ts';
import { lockFolder, openSqlite, SqliteCore, StoreError } from './store/index.ts';
import { readRows } from './sync/index.ts';

const isDatabase = (name: string): boolean => name.endsWith('.db');

class UsageError extends Error {}

/** Copies every database of a folder, each as of one moment, while others read and write. @returns the names */
function backup(from: string, to: string): readonly string[] {
  if (existsSync(to)) throw new UsageError(`${to} is there already; name a new folder`);
  const names = readdirSync(from).filter(isDatabase);
  if (!names.includes(DATABASE_FILE)) throw new UsageError(`there is no ${DATABASE_FILE} in ${from}`);
  mkdirSync(to, { recursive: true });
  for (const name of names) {
    const db = openSqlite(join(from, name), 10_000);
    try {
      db.prepare('VACUUM INTO ?').run(join(to, name));
    } finally {
      db.close();
    }
  }
  return names;
}

/** Puts the databases of a backup in place. @returns the folder that now holds the former files; null when there were none */
function restore(from: string, to: string): string | null {
  const names = readdirSync(from).filter(isDatabase);
  if (!names.includes(DATABASE_FILE))
    throw new UsageError(`${from} is not a backup: it holds no ${DATABASE_FILE}`);
  const faults = check(from).faults;
  if (faults.length > 0) throw new UsageError(`the backup is damaged: ${faults.join('; ')}`);
  mkdirSync(to, { recursive: true });
  const unlock = lockFolder(to);
  try {
    const former = readdirSync(to).filter((name) => /\.db(-wal|-shm)?$/.test(name));
    const aside = join(
      to,
      `before-restore-${new Date(machineClock.now()).toISOString().replaceAll(/[:.]/g, '-')}`,
    );
    if (former.length > 0) mkdirSync(aside);
    for (const name of former) renameSync(join(to, name), join(aside, name));
    for (const name of names) copyFileSync(join(from, name), join(to, name));
    return former.length > 0 ? aside : null;
  } finally {
    unlock();
  }
}

export interface FolderCheck {
  readonly boards: number;
  readonly rows: number;
  readonly records: number;
  readonly bytes: number;
  readonly faults: readonly string[];
}

/** Reads every row and record, merges every document and reads every design. */
function check(folder: string): FolderCheck {
  const file = join(folder, DATABASE_FILE);
  if (!existsSync(file)) throw new UsageError(`there is no ${DATABASE_FILE} in ${folder}`);
  const core = new SqliteCore(file);
  try {
    const report = core.check();
    const faults = [...report.faults];
    for (const kind of ['demo', 'board', 'branch'] as const)
      for (const { id } of core.boardsOfKind(kind))
        for (const part of BOARD_PARTS) faults.push(...checkDocument(core, id, part));
    const { boards, rows, records, bytes } = report;
    return { boards, rows, records, bytes, faults };
  } finally {
    core.close();
  }
}

function checkDocument(core: SqliteCore, board: string, part: (typeof BOARD_PARTS)[number]): string[] {
  const name = `${board}/${part}`;
  try {
    const rows = core.load({ board, part });
    if (rows.length === 0) return [];
    const { update, fault } = readRows(rows, name);
    if (part === 'design') {
      const doc = new Y.Doc();
      Y.applyUpdate(doc, update);
      readDesign(doc);
      doc.destroy();
    }
    return fault === null ? [] : [`${name} cannot be read whole: ${fault}`];
  } catch (cause) {
    // A damaged row is in the report already, by its number.
    if (cause instanceof StoreError && cause.kind === 'damaged') return [];
    return [`${name} cannot be read: ${(cause as Error).message}`];
  }
}

function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

function main(args: readonly string[], dataDir: string): number {
  const [command, folder] = args;
  switch (command) {
    case 'backup':
      if (folder === undefined) throw new UsageError('backup needs the folder to write to');
      say(`copied ${backup(dataDir, folder).join(', ')} to ${folder}`);
      return 0;
    case 'restore': {
      if (folder === undefined) throw new UsageError('restore needs the folder of the backup');
      const aside = restore(folder, dataDir);
      say(`restored ${dataDir} from ${folder}${aside === null ? '' : `; the former files are in ${aside}`}`);
      return 0;
    }
    case 'check': {
      const { boards, rows, records, bytes, faults } = check(folder ?? dataDir);
      say(
        `${boards} boards, ${rows} rows, ${records} records, ${bytes} bytes; ${faults.length === 0 ? 'all well' : `${faults.length} faults`}`,
      );
      for (const fault of faults) say(`fault: ${fault}`);
      return faults.length === 0 ? 0 : 1;
    }
    default:
      throw new UsageError('say backup <folder>, restore <folder> or check [<folder>]');
  }
}

try {
  process.exitCode = main(process.argv.slice(2), process.env.DATA_DIR || './data');
} catch (cause) {
  if (!(cause instanceof UsageError || cause instanceof StoreError)) throw cause;
  process.stderr.write(`${cause.message}\n`);
  process.exitCode = 2;
}
