/** Copies of a data folder: of boards and links together, and back in their place. */
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmdirSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { ACCESS_FILE, DATABASE_FILE } from './open.ts';
import {
  copyAtOneMoment,
  lockFolder,
  openSqlite,
  syncToDisk,
  toStoreError,
  UNFINISHED_RESTORE,
} from './store/index.ts';

/** What was asked cannot be done; the message says why. */
export class UsageError extends Error {}

/** Those of the two files that are in a folder. @throws UsageError when the boards are not */
function filesIn(folder: string, why: string): readonly string[] {
  const files = [DATABASE_FILE, ACCESS_FILE].filter((name) => existsSync(join(folder, name)));
  if (!files.includes(DATABASE_FILE)) throw new UsageError(why);
  return files;
}

/**
 * Copies boards and links of a folder, as of one moment, while a server works on it. The new folder is there once it is whole.
 * @param onPinned see {@link copyAtOneMoment}
 * @returns the names
 */
export async function backup(
  from: string,
  folder: string,
  onPinned?: () => unknown,
): Promise<readonly string[]> {
  const to = resolve(folder);
  if (existsSync(to)) throw new UsageError(`${folder} is there already; name a new folder`);
  if (existsSync(join(from, UNFINISHED_RESTORE)))
    throw new UsageError(`a restore into ${from} was not finished; run it again`);
  const names = filesIn(from, `there is no ${DATABASE_FILE} in ${from}`);
  const unfinished = `${to}.unfinished`;
  rmSync(unfinished, { recursive: true, force: true });
  mkdirSync(unfinished, { recursive: true });
  await copyAtOneMoment(
    names.map((name) => ({ from: join(from, name), to: join(unfinished, name) })),
    onPinned,
  );
  syncToDisk(unfinished);
  renameSync(unfinished, to);
  syncToDisk(dirname(to));
  return names;
}

/** The points between which the process may end; tests listen, the command does not. */
export type RestoreStep = 'copied' | 'checked' | 'synced' | 'marked' | 'aside' | 'one' | 'all' | 'done';

export interface RestoreOptions {
  /** Reads a folder and says what is wrong with it. */
  readonly faultsIn: (folder: string) => readonly string[];
  /** Makes a name of the present time for the folder of the former files. */
  readonly timeName: string;
  readonly onStep?: (step: RestoreStep) => void;
}

/**
 * Puts a backup in place of the data. The copy is made beside the data, checked, and on the disk before anything is moved; then names change
 * alone. From the first to the last of these a mark lies in the folder, and with it no server starts there: restoring again finishes it.
 * @returns the folder that now holds the former files; null when there were none
 */
export function restore(
  from: string,
  to: string,
  { faultsIn, timeName, onStep = () => {} }: RestoreOptions,
): string | null {
  const names = filesIn(from, `${from} is not a backup: it holds no ${DATABASE_FILE}`);
  mkdirSync(to, { recursive: true });
  const unlock = lockFolder(to, true);
  try {
    const fresh = join(to, 'restoring');
    rmSync(fresh, { recursive: true, force: true });
    mkdirSync(fresh);
    try {
      for (const name of names) copyWhole(join(from, name), join(fresh, name));
      onStep('copied');
      const faults = faultsIn(fresh);
      if (faults.length > 0) throw new UsageError(`the backup is damaged: ${faults.join('; ')}`);
    } catch (cause) {
      rmSync(fresh, { recursive: true, force: true });
      throw cause;
    }
    onStep('checked');
    for (const name of names) syncToDisk(join(fresh, name));
    syncToDisk(fresh);
    onStep('synced');
    const mark = join(to, UNFINISHED_RESTORE);
    writeFileSync(mark, `${resolve(from)}\n`);
    for (const place of [mark, to]) syncToDisk(place);
    onStep('marked');
    const present = readdirSync(to).filter((name) => /\.db(-wal|-shm|-journal)?$/.test(name));
    const aside = join(to, `before-restore-${timeName}`);
    if (present.length > 0) mkdirSync(aside, { recursive: true });
    for (const name of present) renameSync(join(to, name), join(aside, name));
    onStep('aside');
    for (const name of names) {
      renameSync(join(fresh, name), join(to, name));
      onStep('one');
    }
    for (const place of present.length > 0 ? [aside, to] : [to]) syncToDisk(place);
    onStep('all');
    rmSync(mark);
    rmdirSync(fresh);
    syncToDisk(to);
    onStep('done');
    return present.length > 0 ? aside : null;
  } finally {
    unlock();
  }
}

/** Copies a file with what stands in a log beside it, into one file. @throws UsageError when it is no database */
function copyWhole(from: string, to: string): void {
  copyFileSync(from, to);
  if (existsSync(`${from}-wal`)) copyFileSync(`${from}-wal`, `${to}-wal`);
  try {
    const db = openSqlite(to);
    try {
      db.pragma('journal_mode = DELETE');
    } finally {
      db.close();
    }
  } catch (cause) {
    throw new UsageError(`the backup is damaged: ${from}: ${toStoreError(cause).message}`, { cause });
  }
}
