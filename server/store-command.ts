/**
 * `npm run store -- <command>`: looks after the SQLite files of a data folder (`DATA_DIR`, default ./data).
 *
 *   backup <folder>   copies every database as of now into a new folder; the server may be running
 *   restore <folder>  puts a backup in place of the data; the server must be stopped; the former files are kept beside
 *   check [<folder>]  reads everything, here or in a backup, and says what is wrong; ends with 1 when something is
 *   repair            leaves out of each document what cannot be read; the server must be stopped; all as it was is kept beside
 */
import './node-env.ts';
import { copyFileSync, existsSync, mkdirSync, readdirSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import * as Y from 'yjs';
import { BOARD_PARTS, readDesign, roomName } from '../engine/document/index.ts';
import { machineClock } from './clock.ts';
import { DATABASE_FILE } from './open.ts';
import { type DocumentAddress, lockFolder, openSqlite, SqliteCore, StoreError } from './store/index.ts';
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
    const aside = join(to, `before-restore-${momentNow()}`);
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
    for (const [address, name] of documentsIn(core)) faults.push(...checkDocument(core, address, name));
    const { boards, rows, records, bytes } = report;
    return { boards, rows, records, bytes, faults };
  } finally {
    core.close();
  }
}

function checkDocument(core: SqliteCore, address: DocumentAddress, name: string): string[] {
  try {
    const rows = core.load(address);
    if (rows.length === 0) return [];
    const { update, fault } = readRows(rows, name);
    if (address.part === 'design') {
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

/**
 * Puts what can be read of each document in the place of its rows, where some cannot be read. Before the first all databases are
 * copied. A document of which nothing can be read stays as it is.
 */
function repair(dataDir: string): { readonly aside: string | null; readonly lines: readonly string[] } {
  const file = join(dataDir, DATABASE_FILE);
  if (!existsSync(file)) throw new UsageError(`there is no ${DATABASE_FILE} in ${dataDir}`);
  const unlock = lockFolder(dataDir);
  const core = new SqliteCore(file);
  try {
    let aside: string | null = null;
    const lines: string[] = [];
    for (const [address, name] of documentsIn(core)) {
      const rows = core.load(address, { damaged: 'mark' });
      const log = rows.length === 0 ? null : readRows(rows, name);
      if (log === null || log.fault === null) continue;
      const left = `${log.left.length} of ${rows.length} rows cannot be read, the first being: ${log.fault}`;
      if (log.left.length === rows.length) {
        lines.push(`${name}: nothing can be read, so it stays as it is; ${left}`);
        continue;
      }
      if (aside === null) {
        aside = join(dataDir, `before-repair-${momentNow()}`);
        backup(dataDir, aside);
      }
      core.compact(
        address,
        rows.map(({ seq }) => seq),
        log.update,
        log.generation,
      );
      lines.push(`${name}: repaired; ${left}`);
    }
    return { aside, lines };
  } finally {
    core.close();
    unlock();
  }
}

/** Every document of every board, by its address and name. */
function documentsIn(core: SqliteCore): readonly (readonly [DocumentAddress, string])[] {
  return (['demo', 'board', 'branch'] as const).flatMap((kind) =>
    core
      .boardsOfKind(kind)
      .flatMap(({ id: board }) =>
        BOARD_PARTS.map((part) => [{ board, part }, roomName(board, part)] as const),
      ),
  );
}

/** As it may stand in the name of a folder. */
function momentNow(): string {
  return new Date(machineClock.now()).toISOString().replaceAll(/[:.]/g, '-');
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
    case 'repair': {
      const { aside, lines } = repair(dataDir);
      for (const line of lines) say(line);
      say(aside === null ? 'there was nothing to repair' : `all as it was is in ${aside}`);
      return 0;
    }
    default:
      throw new UsageError('say backup <folder>, restore <folder>, check [<folder>] or repair');
  }
}

try {
  process.exitCode = main(process.argv.slice(2), process.env.DATA_DIR || './data');
} catch (cause) {
  if (!(cause instanceof UsageError || cause instanceof StoreError)) throw cause;
  process.stderr.write(`${cause.message}\n`);
  process.exitCode = 2;
}
