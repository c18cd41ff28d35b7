/**
 * `npm run store -- <command>`: looks after the SQLite files of a data folder (`DATA_DIR`, default ./data).
 *
 *   backup <folder>   copies boards and links, as of one moment, into a new folder and checks it; the server may be running
 *   restore <folder>  puts a backup in place of the data; the server must be stopped; the former files are kept beside
 *   check [<folder>]  reads everything, here or in a backup, and says what is wrong; ends with 1 when something is
 *   repair            leaves out of each document what cannot be read; the server must be stopped; all as it was is kept beside
 */
import './node-env.ts';
import { copyFileSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as Y from 'yjs';
import { readDesign, roomName } from '../engine/document/index.ts';
import { ACCESS_STEPS, checkAccessFile } from './access/index.ts';
import { backup, restore, UsageError } from './backup.ts';
import { machineClock } from './clock.ts';
import { ACCESS_FILE, DATABASE_FILE } from './open.ts';
import {
  BOARD_KINDS,
  BOARDS_STEPS,
  type DocumentAddress,
  isReadableInPlace,
  lockFolder,
  openLaidOut,
  partsOf,
  SqliteCore,
  StoreError,
  sqliteCode,
  toStoreError,
} from './store/index.ts';
import { readRows } from './sync/index.ts';

export interface FolderCheck {
  readonly boards: number;
  readonly rows: number;
  readonly records: number;
  readonly links: number;
  readonly bytes: number;
  readonly faults: readonly string[];
}

/** Reads every row, record and link, merges every document and reads every design; changes nothing. */
function check(folder: string): FolderCheck {
  const file = join(folder, DATABASE_FILE);
  if (!existsSync(file)) throw new UsageError(`there is no ${DATABASE_FILE} in ${folder}`);
  const core = new SqliteCore(file, { isReadOnly: true });
  try {
    const report = core.check();
    const faults = [...report.faults];
    for (const [address, name] of documentsIn(core)) faults.push(...checkDocument(core, address, name));
    const { boards, rows, records, bytes } = report;
    const access = join(folder, ACCESS_FILE);
    const { links, ...ofAccess } = existsSync(access) ? checkAccessFile(access) : { links: 0, faults: [] };
    faults.push(...ofAccess.faults);
    return { boards, rows, records, links, bytes, faults };
  } finally {
    core.close();
  }
}

/** The same of a backup. Where SQLite would write beside it to read it, or it is of an earlier layout, a copy is read. */
function checkBackup(folder: string): FolderCheck {
  const files = (
    [
      [DATABASE_FILE, BOARDS_STEPS],
      [ACCESS_FILE, ACCESS_STEPS],
    ] as const
  ).filter(([name]) => existsSync(join(folder, name)));
  if (files.every(([name, steps]) => isReadableInPlace(join(folder, name), steps))) return check(folder);
  const copy = mkdtempSync(join(tmpdir(), 'larkboard-check-'));
  try {
    for (const [name, steps] of files) {
      for (const part of [name, `${name}-wal`])
        if (existsSync(join(folder, part))) copyFileSync(join(folder, part), join(copy, part));
      openLaidOut(join(copy, name), steps).close();
    }
    return check(copy);
  } finally {
    rmSync(copy, { recursive: true, force: true });
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
async function repair(
  dataDir: string,
): Promise<{ readonly aside: string | null; readonly lines: readonly string[] }> {
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
        await backup(dataDir, aside);
      }
      // No generation is said, so that what cannot be read does not stay as its past. Nobody else has the folder.
      core.compact(
        address,
        rows.map(({ seq }) => seq),
        log.update,
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
  return BOARD_KINDS.flatMap((kind) =>
    core
      .boardsOfKind(kind)
      .flatMap(({ id: board }) =>
        partsOf(kind).map((part) => [{ board, part }, roomName(board, part)] as const),
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

function sayChecked({ boards, rows, records, links, bytes, faults }: FolderCheck): number {
  const verdict = faults.length === 0 ? 'all well' : `${faults.length} faults`;
  say(`${boards} boards, ${rows} rows, ${records} records, ${bytes} bytes, ${links} links; ${verdict}`);
  for (const fault of faults) say(`fault: ${fault}`);
  return faults.length === 0 ? 0 : 1;
}

async function main(args: readonly string[], dataDir: string): Promise<number> {
  const [command, folder] = args;
  switch (command) {
    case 'backup':
      if (folder === undefined) throw new UsageError('backup needs the folder to write to');
      say(`copied ${(await backup(dataDir, folder)).join(', ')} to ${folder}`);
      return sayChecked(checkBackup(folder));
    case 'restore': {
      if (folder === undefined) throw new UsageError('restore needs the folder of the backup');
      const faultsIn = (copy: string): readonly string[] => checkBackup(copy).faults;
      const aside = restore(folder, dataDir, { faultsIn, timeName: momentNow() });
      say(`restored ${dataDir} from ${folder}${aside === null ? '' : `; the former files are in ${aside}`}`);
      return 0;
    }
    case 'check':
      return sayChecked(folder === undefined ? check(dataDir) : checkBackup(folder));
    case 'repair': {
      const { aside, lines } = await repair(dataDir);
      for (const line of lines) say(line);
      say(aside === null ? 'there was nothing to repair' : `all as it was is in ${aside}`);
      return 0;
    }
    default:
      throw new UsageError('say backup <folder>, restore <folder>, check [<folder>] or repair');
  }
}

try {
  process.exitCode = await main(process.argv.slice(2), process.env.DATA_DIR || './data');
} catch (cause) {
  const isOfSqlite = sqliteCode(cause) !== '';
  if (!(cause instanceof UsageError || cause instanceof StoreError || isOfSqlite)) throw cause;
  process.stderr.write(`${isOfSqlite ? toStoreError(cause).message : (cause as Error).message}\n`);
  process.exitCode = 2;
}
