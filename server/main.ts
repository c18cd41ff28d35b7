/** Reads the settings, listens, and stops in good order. `npm start` runs this from dist/. */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { authorizeByAddress } from './authorize.ts';
import { Log } from './log.ts';
import { Metrics } from './metrics.ts';
import { openRelay, openStore } from './open.ts';
import { startServer } from './serve.ts';
import { readSettings } from './settings.ts';
import { lockFolder } from './store/folder-lock.ts';

const settings = readSettings(process.env);
const log = new Log((line) => process.stdout.write(line), Date.now, settings.logLevel);
const metrics = new Metrics();
// With a database elsewhere the server keeps nothing on its own disk.
if (settings.databaseUrl === null) {
  mkdirSync(settings.dataDir, { recursive: true });
  // Kept until the end: a lock that nobody refers to would be collected, and let go.
  process.on('exit', lockFolder(settings.dataDir));
}

const server = await startServer({
  settings,
  store: await openStore(settings, metrics, log),
  relay: await openRelay(settings, log),
  metrics,
  log,
  now: Date.now,
  authorize: authorizeByAddress,
  pageFolder: fileURLToPath(new URL('../web', import.meta.url)),
  demoFolder: fileURLToPath(new URL('../../demo-data', import.meta.url)),
});
log.info('listening', { host: server.host, port: server.port });
process.stdout.write(`Larkboard is at http://${server.host}:${server.port}\n`);

let isStopping = false;
async function stop(signal: string): Promise<void> {
  if (isStopping) return;
  isStopping = true;
  log.info('stopping', { signal });
  const unsaved = await server.close();
  if (unsaved > 0) log.error('stopped-with-unsaved-edits', { rooms: unsaved });
  else log.info('stopped', {});
  process.exitCode = unsaved > 0 ? 1 : 0;
}
process.on('SIGTERM', () => void stop('SIGTERM'));
process.on('SIGINT', () => void stop('SIGINT'));
