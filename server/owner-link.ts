/**
 * `npm run owner-link -- <board>`: makes an owner link for a board and prints it; for boards made before there were links, and for
 * owners who lost theirs. The server may be running. Reads the same settings as the server.
 */
import './node-env.ts';
import { Access } from './access/index.ts';
import { machineClock } from './clock.ts';
import { Log } from './log.ts';
import { Metrics } from './metrics.ts';
import { openAccessStore, openStore } from './open.ts';
import { readSettings } from './settings.ts';

async function main(boardId: string | undefined): Promise<number> {
  if (boardId === undefined) {
    process.stderr.write('say the id of the board, as it stands in its address behind /board/\n');
    return 2;
  }
  const settings = readSettings(process.env);
  const log = new Log((line) => process.stderr.write(line), machineClock.now, 'warn');
  const store = await openStore(settings, new Metrics(), log, machineClock);
  try {
    if ((await store.board(boardId))?.kind !== 'board') {
      process.stderr.write(`there is no board ${boardId} that somebody could own\n`);
      return 2;
    }
    const links = await openAccessStore(settings, log);
    try {
      const access = new Access({ store: links, now: machineClock.now, isOpen: () => false });
      const { secret } = await access.makeLink(boardId, {
        role: 'owner',
        name: 'made on the server',
        endsAt: null,
      });
      process.stdout.write(`/board/${boardId}#${secret}\n`);
      return 0;
    } finally {
      await links.close();
    }
  } finally {
    await store.close();
  }
}

process.exitCode = await main(process.argv[2]);
