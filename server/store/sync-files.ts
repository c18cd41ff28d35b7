/** Waits until what was written is on the disk: of a file its content, of a folder which names stand in it. */
import { closeSync, fsyncSync, openSync } from 'node:fs';

export function syncToDisk(fileOrFolder: string): void {
  const opened = openSync(fileOrFolder, 'r');
  try {
    fsyncSync(opened);
  } finally {
    closeSync(opened);
  }
}
