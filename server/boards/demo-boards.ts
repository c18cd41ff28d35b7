/** The demo boards: made from the files of a folder when the store does not hold them yet. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import { parseBoard } from '../../engine/index.ts';
import type { Store } from '../store/index.ts';
import { encodeBoard } from './encode-board.ts';

/**
 * Makes the missing demo boards. `name.json` becomes the board `demo-name`. The document is the same to the byte on
 * every server, so that two that start at once make no conflict.
 * @returns the ids made now
 * @throws Error naming the file and the place in it when a file is not a valid board
 */
export async function makeDemoBoards(
  store: Store,
  folder: string,
  now: () => number,
): Promise<readonly string[]> {
  const files = (await readdir(folder)).filter((name) => name.endsWith('.json')).sort();
  const made: string[] = [];
  for (const file of files) {
    const id = `demo-${file.slice(0, -'.json'.length).replaceAll(/[^A-Za-z0-9_-]/g, '-')}`;
    if ((await store.board(id)) !== null) continue;
    const parsed = parseBoard(await readFile(join(folder, file), 'utf8'));
    if (!parsed.ok) throw new Error(`demo board ${file}: ${parsed.error.message} (at ${parsed.error.path})`);
    let count = 0;
    const bytes = encodeBoard(
      parsed.value,
      () => {
        count += 1;
        return `d${count}`;
      },
      crc32(`${id}/demo`),
    );
    const isNew = await store.addBoard({ id, kind: 'demo', createdAt: now() }, [{ part: 'design', bytes }]);
    if (isNew) made.push(id);
  }
  return made;
}
